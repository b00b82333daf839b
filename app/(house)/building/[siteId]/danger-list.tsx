import Link from "next/link";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import { asSignalWord, SignalWord } from "@/app/_ui/signal-word";
import type { SiteView } from "@/lib/registry/place-building";

const strength = ["DANGER", "WARNING", "CAUTION", "NOTICE"];
const mostRows = 30;

function ageWords(at: Date, now: Date): string {
  const days = Math.floor((now.getTime() - at.getTime()) / 86_400_000);
  return days === 0 ? "today" : days === 1 ? "1 day" : `${days} days`;
}

/** What is open at the site, dangers first, the oldest first. */
export function DangerList({ view, now }: { view: SiteView; now: Date }) {
  const rows = [...view.findings].sort((a, b) => strength.indexOf(a.signalWord) - strength.indexOf(b.signalWord));
  return (
    <PlainSection
      head="Dangers, oldest first"
      aside={
        <Link className="small" href={`/findings?site=${view.site.id}`}>
          All findings here
        </Link>
      }
    >
      {rows.length === 0 ? (
        <p className="soft">Nothing is open here.</p>
      ) : (
        <DataTable caption="Open findings of the site">
          <TableHead columns={["Word", "Unit", "What", figureColumn("Open")]} />
          <tbody>
            {rows.slice(0, mostRows).map((row) => {
              const word = asSignalWord(row.signalWord);
              return (
                <tr key={row.id}>
                  <td>{word && <SignalWord word={word} />}</td>
                  <td className="nw">
                    {row.unit && row.unitId ? <Link href={`/building/${view.site.id}?unit=${row.unitId}`}>{row.unit}</Link> : "site"}
                  </td>
                  <td>
                    <Link href={`/findings/${row.id}`}>{row.sentence}</Link>
                  </td>
                  <td className={cell.num}>{ageWords(row.openedAt, now)}</td>
                </tr>
              );
            })}
          </tbody>
        </DataTable>
      )}
    </PlainSection>
  );
}
