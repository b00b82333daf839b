import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { RecallState } from "@/lib/registry/recall-overview";
import { CompareAgain } from "./compare-again";
import { dayWords } from "./grade-words";

/** The lists loaded so far with the account of each, and the ways to load another. */
export function LoadedLists({ state, mayLoad, mayCompare }: { state: RecallState; mayLoad: boolean; mayCompare: boolean }) {
  return (
    <PlainSection
      head="Lists loaded"
      id="lists"
      aside={
        <Acts>
          <ButtonLink href="/recalls/lists">Fetched lists</ButtonLink>
          {mayLoad && <ButtonLink href="/bring-in">Bring in a list</ButtonLink>}
          {mayCompare && <CompareAgain />}
        </Acts>
      }
    >
      <DataTable caption="Lists loaded, the latest first" cards>
        <TableHead columns={["Loaded", "Source", ...["Records", "New", "Amended", "Unchanged", "Gone"].map(figureColumn)]} />
        <tbody>
          {state.lists.map((load) => (
            <tr key={load.id}>
              <td className="nw">
                {load.importRunId ? <Link href={`/bring-in/${load.importRunId}`}>{dayWords(load.loadedAt)}</Link> : dayWords(load.loadedAt)}
              </td>
              <td className={cell.wide}>
                {load.source}
                <span className={cell.second}>{load.fileName}</span>
              </td>
              <td className={cell.num} data-label="records">
                {figures(load.records)}
              </td>
              <td className={cell.num} data-label="new">
                {figures(load.fresh)}
              </td>
              <td className={cell.num} data-label="amended">
                {figures(load.amended)}
              </td>
              <td className={cell.num} data-label="unchanged">
                {figures(load.unchanged)}
              </td>
              <td className={cell.num} data-label="gone">
                {figures(load.gone)}
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </PlainSection>
  );
}
