import Link from "next/link";
import { cell, DataTable, SortHead } from "@/app/_ui/data-table";
import { Plate } from "@/app/_ui/plate";
import { TagChip } from "@/app/_ui/tag-chip";
import { type Grade, gradeWords } from "@/lib/matching/candidate";
import type { CandidateRow } from "@/lib/registry/recall-overview";
import type { CandidateSort } from "@/lib/store/candidate-list-queries";
import { dayWords, gradeSentences, standingWords } from "./grade-words";
import styles from "./recalls.module.css";
import { placeWords, shownPlate } from "./shown-plate";

export interface Sorting {
  readonly sort: CandidateSort;
  readonly order: "asc" | "desc";
  readonly href: (sort: CandidateSort, order: "asc" | "desc") => string;
}

const columns: readonly { readonly sort: CandidateSort; readonly label: string; readonly first: "asc" | "desc" }[] = [
  { sort: "maker", label: "Appliance", first: "asc" },
  { sort: "notice", label: "Notice", first: "desc" },
  { sort: "work", label: "Grade", first: "asc" },
  { sort: "raised", label: "Since", first: "asc" },
];

function Heads({ sorting }: { sorting: Sorting | undefined }) {
  return columns.map(({ sort, label, first }) => {
    if (!sorting)
      return (
        <th scope="col" key={sort}>
          {label}
        </th>
      );
    const isOn = sorting.sort === sort;
    const next = isOn ? (sorting.order === "asc" ? "desc" : "asc") : first;
    const order = isOn ? (sorting.order === "asc" ? "ascending" : "descending") : undefined;
    return <SortHead key={sort} label={label} href={sorting.href(sort, next)} order={order} />;
  });
}

/** The fact that speaks most: the question where there is one, else the strongest reason. */
function mainWords({ candidate }: CandidateRow): string {
  if (candidate.ask) return candidate.ask.question;
  const [strongest] = [...candidate.reasons].sort((a, b) => Math.abs(b.weight) - Math.abs(a.weight));
  return strongest?.sentence ?? "";
}

/** Rows of one grade under its head, in the order of the work; otherwise all in one. */
function groupsOf(rows: readonly CandidateRow[], isByWork: boolean): { grade: Grade | null; rows: CandidateRow[] }[] {
  const groups: { grade: Grade | null; rows: CandidateRow[] }[] = [];
  for (const row of rows) {
    const grade = isByWork ? row.candidate.grade : null;
    const last = groups.at(-1);
    if (last && last.grade === grade) last.rows.push(row);
    else groups.push({ grade, rows: [row] });
  }
  return groups;
}

/** Candidates led by their plates; each row leads to its review. */
export function CandidateTable(props: { caption: string; rows: readonly CandidateRow[]; sorting?: Sorting }) {
  return (
    <DataTable caption={props.caption} cards top>
      <thead>
        <tr>
          <Heads sorting={props.sorting} />
          <th scope="col">
            <span className="vh">Review</span>
          </th>
        </tr>
      </thead>
      {groupsOf(props.rows, props.sorting?.sort === "work").map(({ grade, rows }) => (
        <tbody key={rows[0]?.candidate.id}>
          {grade && (
            <tr className={styles.group}>
              <th scope="rowgroup" colSpan={5}>
                {gradeWords[grade]} <span>{gradeSentences[grade]}</span>
              </th>
            </tr>
          )}
          {rows.map((row) => (
            <Row key={row.candidate.id} row={row} />
          ))}
        </tbody>
      ))}
    </DataTable>
  );
}

function Row({ row }: { row: CandidateRow }) {
  const { candidate, place } = row;
  const { appliance, notice } = candidate;
  return (
    <tr>
      <td className={cell.wide}>
        <Plate size="row" plate={shownPlate(appliance)} href={`/appliances/${appliance.id}`} />
        <span className={styles.under}>
          <TagChip tag={appliance.tag} href={`/appliances/${appliance.id}`} /> {placeWords(place)}
        </span>
      </td>
      <td className={cell.wide}>
        <Link className="nw" href={`/recalls/${notice.id}`}>
          {notice.number}
        </Link>
        {notice.date && <span className="mute"> {dayWords(notice.date)}</span>}
        <span className={`${styles.quoted} ${styles.clamp}`}>{notice.title}</span>
      </td>
      <td className={cell.wide}>
        <b>{gradeWords[candidate.grade]}</b>
        {candidate.standing !== "undecided" && <span className="soft">, {standingWords[candidate.standing]}</span>}
        <span className={`${cell.second} ${styles.clamp}`}>{mainWords(row)}</span>
      </td>
      <td className="nw" data-label="since">
        {dayWords(candidate.raisedAt)}
      </td>
      <td className={styles.act}>
        <Link className={styles.review} href={`/recalls/review/${candidate.id}`}>
          Review<span className="vh"> {appliance.tag}</span>
        </Link>
      </td>
    </tr>
  );
}
