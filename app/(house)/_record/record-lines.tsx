import { Code } from "@/app/_ui/code";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import type { TimelineLine } from "@/lib/access/record-about";
import { timeWords } from "../appliances/_parts/time-words";

/** Entries of the record about one thing. The links are shown so that anyone can compare them. */
export function RecordLines({ lines, timeZone }: { lines: readonly TimelineLine[]; timeZone: string | null }) {
  if (lines.length === 0) return <p className="soft">Nothing was recorded about it yet.</p>;
  return (
    <DataTable caption="Record" cards>
      <TableHead columns={["When", "What", "By", "Link"]} />
      <tbody>
        {lines.map((line) => (
          <tr key={line.number}>
            <td className="nw mute">{timeWords(line.at, timeZone)}</td>
            <td className={cell.wide}>{line.what}</td>
            <td>{line.who}</td>
            <td className={`nw mute ${cell.gone}`}>
              <Code>
                {line.hash.slice(-4)} &lt; {line.previousHash.slice(-4)}
              </Code>
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
