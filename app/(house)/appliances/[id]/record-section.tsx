import Link from "next/link";
import { Code } from "@/app/_ui/code";
import { DataTable, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { ApplianceView } from "@/lib/registry/appliance-view";
import { timeWords } from "../_parts/time-words";

/** The latest entries of the record about it. The links are shown so that anyone can compare them. */
export function RecordSection({ view, maySeeAll }: { view: ApplianceView; maySeeAll: boolean }) {
  const zone = view.site?.timeZone ?? null;
  const { record, recordCount, appliance } = view;
  return (
    <PlainSection
      head="Record"
      aside={
        <span className="small soft">
          Append-only, each entry linked to the one before.{" "}
          {maySeeAll && recordCount > record.length && <Link href={`/record?subject=${appliance.id}`}>All {recordCount} entries</Link>}
        </span>
      }
    >
      {record.length === 0 ? (
        <p className="soft">Nothing was recorded about it yet.</p>
      ) : (
        <DataTable caption="Record">
          <TableHead columns={["When", "What", "By", "Link"]} />
          <tbody>
            {record.map((entry) => (
              <tr key={entry.number}>
                <td className="nw mute">{timeWords(entry.at, zone)}</td>
                <td>{entry.what}</td>
                <td className="nw">{entry.who}</td>
                <td className="nw mute">
                  <Code>
                    {entry.hash.slice(-4)} &lt; {entry.previousHash.slice(-4)}
                  </Code>
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
    </PlainSection>
  );
}
