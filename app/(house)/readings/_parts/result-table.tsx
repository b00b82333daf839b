import { cell, DataTable, SortHead } from "@/app/_ui/data-table";
import { LimitBar } from "@/app/_ui/limit-bar";
import { asSignalWord, SignalWord } from "@/app/_ui/signal-word";
import { TagChip } from "@/app/_ui/tag-chip";
import type { ReadingsQuery, ShownResult } from "@/lib/registry/readings-overview";
import { barUnit } from "../../findings/_parts/plate-of-finding";
import { sortedAs, sortHref } from "./address";
import { clockWords } from "./chart-words";
import styles from "./readings.module.css";

/** Screening results: what, where, from when to when, and how far beyond. */
export function ResultTable({ rows, query }: { rows: readonly ShownResult[]; query: ReadingsQuery }) {
  return (
    <DataTable caption="Screening results" cards top>
      <thead>
        <tr>
          <th scope="col">Word</th>
          <SortHead label="What" href={sortHref(query, "kind")} order={sortedAs(query, "kind")} />
          <th scope="col">Where</th>
          <SortHead label="From and to" href={sortHref(query, "from")} order={sortedAs(query, "from")} />
          <SortHead label="Against the limit" href={sortHref(query, "ratio")} order={sortedAs(query, "ratio")} />
        </tr>
      </thead>
      <tbody>
        {rows.map((shown) => (
          <ResultRow key={shown.row.id} shown={shown} />
        ))}
      </tbody>
    </DataTable>
  );
}

function ResultRow({ shown }: { shown: ShownResult }) {
  const { row, words, reasons, site, spot, timeZone, appliance } = shown;
  const word = asSignalWord(row.signalWord);
  const unit = barUnit(row.unit);
  return (
    <tr>
      <td>{word && <SignalWord word={word} />}</td>
      <td className={`${cell.wide} ${styles.what}`}>
        <b>{words}</b>
        <details>
          <summary>Why</summary>
          <ul className={styles.reasons}>
            {reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </details>
      </td>
      <td className={cell.wide}>
        <b>{spot ?? site}</b>
        {spot && <span className={cell.second}>{site}</span>}
        {appliance && <TagChip tag={appliance.tag} href={`/appliances/${appliance.id}`} />}
      </td>
      <td className="nw">
        {clockWords(row.fromAt.getTime(), timeZone)}
        <span className={cell.second}>to {clockWords(row.toAt.getTime(), timeZone)}</span>
      </td>
      <td className={cell.wide}>
        {unit ? (
          <LimitBar size="stack" seen={row.value} allowed={row.limit} unit={unit} limitWord="limit" />
        ) : (
          <>
            {row.value} {row.unit}, repeated from {row.limit}
          </>
        )}
      </td>
    </tr>
  );
}
