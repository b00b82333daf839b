import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { PlainSection } from "@/app/_ui/side-section";
import type { ReadingsOverview } from "@/lib/registry/readings-overview";
import { clockWords } from "./chart-words";

const stateWords = { waiting: "waiting", running: "running", done: "done", stopped: "stopped", broken_off: "broken off" } as const;

/** The logs that were loaded, each with its account of rows. */
export function LoadsSection({ runs, mayLoad, timeZone }: { runs: ReadingsOverview["runs"]; mayLoad: boolean; timeZone: string }) {
  return (
    <PlainSection head="Logs loaded" id="loads" aside={mayLoad && <ButtonLink href="/bring-in">Load a log</ButtonLink>}>
      {runs.length === 0 ? (
        <EmptyState head="No log was loaded yet">An outlet log is CSV or JSON Lines, one reading or event a row.</EmptyState>
      ) : (
        <DataTable caption="Logs loaded, the latest first" cards>
          <TableHead columns={["Loaded", "File", "State", ...["Rows", "New", "Unchanged", "Set aside"].map(figureColumn)]} />
          <tbody>
            {runs.map((run) => (
              <tr key={run.id}>
                <td className="nw">
                  <Link href={`/bring-in/${run.id}`}>{clockWords(run.startedAt.getTime(), timeZone)}</Link>
                </td>
                <td className={cell.wide}>
                  {run.fileName}
                  {run.message && <span className={cell.second}>{run.message}</span>}
                </td>
                <td>{stateWords[run.state]}</td>
                {(
                  [
                    ["rows", run.rowsRead],
                    ["new", run.created],
                    ["unchanged", run.unchanged],
                    ["set aside", run.setAside],
                  ] as const
                ).map(([name, count]) => (
                  <td key={name} className={cell.num} data-label={name}>
                    {figures(count)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
    </PlainSection>
  );
}
