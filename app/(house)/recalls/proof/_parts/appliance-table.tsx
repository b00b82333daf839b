import Link from "next/link";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { Plate } from "@/app/_ui/plate";
import { TagChip } from "@/app/_ui/tag-chip";
import { gradeInWords } from "@/lib/matching/candidate";
import { labelGapWords, noticeGapWords, proofOutcomeWords } from "@/lib/matching/negative-proof";
import type { ProofNotice, ProofRow, UnprovedNotice } from "@/lib/registry/negative-proof";
import { plateOf } from "../../../appliances/_parts/plate-of";
import { dayWords, standingWords } from "../../_parts/grade-words";
import styles from "../../_parts/recalls.module.css";

/** The appliances with what came of each, and why where it could not be checked. */
export function ProofTable({ rows }: { rows: readonly ProofRow[] }) {
  return (
    <DataTable caption="Appliances and what came of comparing them" cards top>
      <TableHead columns={["Appliance", "Came to", "Why, and which notices"]} />
      <tbody>
        {rows.map((row) => (
          <Row key={row.appliance.id} row={row} />
        ))}
      </tbody>
    </DataTable>
  );
}

function Row({ row: { appliance, where, outcome, gaps, pairs, agrees } }: { row: ProofRow }) {
  const href = `/appliances/${appliance.id}`;
  return (
    <tr>
      <td className={cell.wide}>
        <Plate size="row" plate={plateOf({ ...appliance, owner: null, notes: null })} href={href} />
        <span className={styles.under}>
          <TagChip tag={appliance.tag} href={href} /> {where ?? "at the site, no more is known"}
        </span>
      </td>
      <td>
        <b>{proofOutcomeWords[outcome]}</b>
      </td>
      <td className={cell.wide}>
        {gaps.map((gap) => (
          <p key={gap}>{labelGapWords[gap]}</p>
        ))}
        {pairs.map((pair) => (
          <Pair key={pair.notice.id} pair={pair} />
        ))}
        {!agrees && <p className="late">The comparison that is stored says otherwise: compare again on the recalls page.</p>}
      </td>
    </tr>
  );
}

function Pair({ pair: { notice, grade, standing } }: { pair: ProofNotice }) {
  const said = standing === "open" ? (grade === "not_covered" ? "a fact rules it out" : "not decided") : standingWords[standing];
  return (
    <p>
      <Link className="nw" href={`/recalls/${notice.id}`}>
        {notice.number}
      </Link>
      , {notice.source}: {gradeInWords(grade)}, {said}
    </p>
  );
}

/** Notices that were compared in part only, or not at all, and why. */
export function UnprovedTable({ rows }: { rows: readonly UnprovedNotice[] }) {
  return (
    <DataTable caption="Notices that could not be compared in full" cards top>
      <TableHead columns={["Notice", "In its own words", "Why"]} />
      <tbody>
        {rows.map(({ notice, gaps }) => (
          <tr key={notice.id}>
            <td>
              <Link className="nw" href={`/recalls/${notice.id}`}>
                {notice.number}
              </Link>
              <span className={cell.second}>
                {notice.source}
                {notice.date && `, ${dayWords(notice.date)}`}
              </span>
            </td>
            <td className={`${cell.wide} ${styles.quoted}`}>{notice.title}</td>
            <td className={cell.wide}>
              {gaps.map((gap) => (
                <p key={gap}>{noticeGapWords[gap]}</p>
              ))}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
