import Link from "next/link";
import { cell, DataTable, SortHead } from "@/app/_ui/data-table";
import { Plate } from "@/app/_ui/plate";
import { SignalWord } from "@/app/_ui/signal-word";
import { TagChip } from "@/app/_ui/tag-chip";
import { dueWords, waiting } from "@/lib/casework/due-words";
import { isOutcome, outcomes } from "@/lib/casework/outcome";
import { stateWords } from "@/lib/casework/step";
import type { FindingQuery } from "@/lib/registry/finding-list";
import type { ShownFinding } from "@/lib/registry/shown-finding";
import { sortedAs, sortHref } from "./address";
import styles from "./findings.module.css";
import { plateOfFinding } from "./plate-of-finding";

/** Findings as a ruled table; on a phone as a list led by the plate. */
export function FindingTable({ rows, query, now }: { rows: readonly ShownFinding[]; query: FindingQuery; now: Date }) {
  const head = (sort: NonNullable<FindingQuery["sort"]>, label: string) => (
    <SortHead label={label} href={sortHref(query, sort)} order={sortedAs(query, sort)} />
  );
  return (
    <DataTable caption="Findings" cards top>
      <thead>
        <tr>
          {head("word", "Word")}
          <th scope="col">What</th>
          <th scope="col">Where</th>
          {head("since", "Open for")}
          {head("due", "Due and owner")}
          <th scope="col">State</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <FindingRow key={row.finding.id} row={row} now={now} />
        ))}
      </tbody>
    </DataTable>
  );
}

function FindingRow({ row, now }: { row: ShownFinding; now: Date }) {
  const { finding, facts, appliance, place, timeZone } = row;
  const href = `/findings/${finding.id}`;
  const age = waiting(finding.openedAt, facts.state === "closed" ? (finding.closedAt ?? now) : now);
  const due = dueWords(finding.dueAt, now, timeZone);
  const ended = finding.outcome !== null && isOutcome(finding.outcome) ? outcomes[finding.outcome].words : "closed";
  return (
    <tr>
      <td>
        <SignalWord word={facts.signalWord} />
      </td>
      <td className={`${cell.wide} ${styles.what}`}>
        {appliance ? <Plate size="row" plate={plateOfFinding(appliance)} href={href} /> : <Link href={href}>{row.title}</Link>}
        <p className={styles.sentence}>
          <Link href={href}>{finding.sentence}</Link>
        </p>
      </td>
      <td className={cell.wide}>
        <b>{place.unit ? `Unit ${place.unit}` : place.site}</b>
        <span className={cell.second}>{[place.unit ? place.site : null, place.spot].filter(Boolean).join(", ")}</span>
        {appliance && <TagChip tag={appliance.tag} href={`/appliances/${appliance.id}`} />}
      </td>
      <td className="nw" data-label="open for">
        {age.count} {age.unit}
        <span className={cell.second}>{finding.timesSeen > 1 ? `seen ${finding.timesSeen} times` : "seen once"}</span>
      </td>
      <td>
        {facts.state === "closed" ? (
          <span className="mute">was due</span>
        ) : (
          <span className={due.late ? "late" : undefined}>{due.words}</span>
        )}
        <span className={cell.second}>{row.owner ?? "no owner"}</span>
      </td>
      <td className="nw">{facts.state === "closed" ? ended : stateWords[facts.state]}</td>
    </tr>
  );
}
