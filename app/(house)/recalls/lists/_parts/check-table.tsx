import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import type { ShownCheck } from "@/lib/registry/notice-source-view";
import styles from "./lists.module.css";
import { checkWords, timeWords, versionWords } from "./source-words";

/** The account of checks: which version stood where when, and what became of it. */
export function CheckTable({ checks, withNames }: { checks: readonly ShownCheck[]; withNames: boolean }) {
  return (
    <DataTable caption="Checks, the latest first" cards top>
      <TableHead columns={["Looked at", ...(withNames ? ["List"] : []), "Came to", "Version that stood there", figureColumn("Notices")]} />
      <tbody>
        {checks.map((check) => (
          <tr key={check.id}>
            <td className="nw">{timeWords(check.at)}</td>
            {withNames && (
              <td data-label="List">
                {check.source.removedAt ? check.source.name : <Link href={`/recalls/lists/${check.sourceId}`}>{check.source.name}</Link>}
              </td>
            )}
            <td className={cell.wide} data-label="Came to">
              {check.importRunId ? <Link href={`/bring-in/${check.importRunId}`}>{checkWords(check)}</Link> : checkWords(check)}
              {check.message && <span className={`${cell.second} ${styles.problem}`}>{check.message}</span>}
            </td>
            <td className={`${cell.wide} ${styles.version}`} data-label="Version">
              {check.outcome === "unchanged" && check.fileHash === null ? "the one we had" : versionWords(check) || "–"}
              {check.answeredBy !== null && check.answeredBy !== check.source.url && (
                <span className={cell.second}>from {check.answeredBy.replace(/^https:\/\//, "")}</span>
              )}
            </td>
            <td className={cell.num} data-label="Notices">
              {check.notices === null ? "–" : figures(check.notices)}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
