import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import type { ShownSource } from "@/lib/registry/notice-source-view";
import styles from "./lists.module.css";
import { intervalWords, stateWords, timeWords, versionWords } from "./source-words";

/** The lists that are fetched, each with how it stands. */
export function SourceTable({ sources }: { sources: readonly ShownSource[] }) {
  return (
    <DataTable caption="Lists that are fetched on a schedule" cards top>
      <TableHead columns={["List", "How it stands", "Last checked", "Version we have", figureColumn("Notices"), "Next look"]} />
      <tbody>
        {sources.map((source) => (
          <SourceRow key={source.id} source={source} />
        ))}
      </tbody>
    </DataTable>
  );
}

function SourceRow({ source }: { source: ShownSource }) {
  const isQuiet = source.state === "current" || source.state === "new" || source.isBeingChecked;
  return (
    <tr>
      <td className={cell.wide}>
        <Link href={`/recalls/lists/${source.id}`}>{source.name}</Link>
        <span className={`${cell.second} ${styles.address}`}>{source.url.replace(/^https:\/\//, "")}</span>
      </td>
      <td className={cell.wide} data-label="Stands">
        {isQuiet ? stateWords(source) : <b>{stateWords(source)}</b>}
        {source.problem !== null && <span className={`${cell.second} ${styles.problem}`}>{source.problem}</span>}
      </td>
      <td className={cell.wide} data-label="Last checked">
        {source.checkedAt ? timeWords(source.checkedAt) : "never"}
      </td>
      <td className={cell.wide} data-label="Version">
        {source.loadedAt ? (
          <>
            taken in {timeWords(source.loadedAt)}
            <span className={`${cell.second} ${styles.version}`}>{versionWords(source)}</span>
          </>
        ) : (
          "none yet"
        )}
      </td>
      <td className={cell.num} data-label="Notices">
        {source.notices === null ? "–" : figures(source.notices)}
      </td>
      <td className={cell.wide} data-label="Next look">
        {source.isOn ? timeWords(source.nextDueAt) : "paused"}
        <span className={cell.second}>{intervalWords(source.everyHours)}</span>
      </td>
    </tr>
  );
}
