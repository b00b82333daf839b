import Link from "next/link";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import type { CorrectionEffect } from "@/lib/notices/correction";
import { statementNames, statementWords } from "@/lib/notices/statement";
import type { ShownCorrection } from "@/lib/registry/coverage-review";
import { dayWords } from "../_parts/grade-words";
import styles from "./notice.module.css";

const effects: Readonly<Record<CorrectionEffect, { readonly words: string; readonly isAsking: boolean }>> = {
  "in force": { words: "in force", isAsking: false },
  "read by now": { words: "The notice is read this way by itself now: the correction can be withdrawn.", isAsking: true },
  "nothing left to take out": { words: "The notice no longer says it: the correction does nothing, and can be withdrawn.", isAsking: true },
  "words gone": { words: "The words it was about are gone from the notice.", isAsking: true },
};

/** What a correction does, in words. */
export function correctionWords({ correction }: Pick<ShownCorrection, "correction">): string {
  if (correction.act === "dismiss") return `Nothing to compare in “${correction.passage.quote}”`;
  const { statement } = correction;
  return `${correction.act === "add" ? "Added" : "Taken out"}: ${statementNames[statement.kind].toLowerCase()}, ${statementWords(statement)}`;
}

/** People's corrections of a notice: what, by whom, when, why, and what became of them. */
export function Corrections(props: {
  noticeId: string;
  standing: readonly ShownCorrection[];
  withdrawn: readonly ShownCorrection[];
  mayCorrect: boolean;
}) {
  const { noticeId, standing, withdrawn, mayCorrect } = props;
  return (
    <>
      {standing.length > 0 && (
        <DataTable caption="Corrections that stand" cards top>
          <TableHead columns={["Correction", "Why", "By", "What became of it", ...(mayCorrect ? [spokenColumn("Withdraw")] : [])]} />
          <tbody>
            {standing.map((one) => (
              <tr key={one.id}>
                <td className={cell.wide}>{correctionWords(one)}</td>
                <td className={cell.wide}>{one.reason}</td>
                <td className="nw">
                  {one.by}
                  <span className={cell.second}>{dayWords(one.at)}</span>
                </td>
                <td className={cell.wide}>
                  {effects[one.effect].isAsking ? <b>{effects[one.effect].words}</b> : effects[one.effect].words}
                  {one.isOfOlderWords && <span className={cell.second}>made before the notice was amended</span>}
                </td>
                {mayCorrect && (
                  <td>
                    <Link href={`/recalls/${noticeId}?${new URLSearchParams({ withdraw: one.id })}#correct`} scroll={false}>
                      Withdraw
                      <span className="vh"> {correctionWords(one)}</span>
                    </Link>
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      {withdrawn.length > 0 && (
        <details className={styles.withdrawn}>
          <summary>Withdrawn ({withdrawn.length})</summary>
          <ul>
            {withdrawn.map((one) => (
              <li key={one.id}>
                {correctionWords(one)}. {one.by}, {dayWords(one.at)}: {one.reason}{" "}
                <span className="soft">
                  Withdrawn by {one.withdrawnBy}
                  {one.withdrawnAt && `, ${dayWords(one.withdrawnAt)}`}: {one.withdrawnWhy}
                </span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}
