import Link from "next/link";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import { asSignalWord, SignalWord } from "@/app/_ui/signal-word";
import { stateWords } from "@/lib/casework/step";
import { gradeInWords } from "@/lib/matching/candidate";
import type { ApplianceView } from "@/lib/registry/appliance-view";
import { verdictInWords } from "@/lib/registry/decision-standing";
import type { ViewedCandidate } from "@/lib/store/appliance-view-queries";
import { dayWords } from "../_parts/time-words";
import styles from "./appliance.module.css";

type Finding = ApplianceView["findings"][number];

/** Its findings, open ones first. */
export function FindingSection({ view, now }: { view: ApplianceView; now: Date }) {
  const zone = view.site?.timeZone ?? null;
  const rows = [...view.findings].sort((a, b) => Number(a.closedAt !== null) - Number(b.closedAt !== null));
  return (
    <PlainSection head="Findings">
      {rows.length === 0 ? (
        <p className="soft">None so far.</p>
      ) : (
        <DataTable caption="Findings" cards top>
          <TableHead columns={["Word", "What", "Since", "Due", "Owner", "State"]} />
          <tbody>
            {rows.map((row) => (
              <FindingRow key={row.id} row={row} zone={zone} now={now} />
            ))}
          </tbody>
        </DataTable>
      )}
    </PlainSection>
  );
}

function FindingRow({ row, zone, now }: { row: Finding; zone: string | null; now: Date }) {
  const word = asSignalWord(row.signalWord);
  const late = row.closedAt === null && row.dueAt < now;
  return (
    <tr>
      <td>{word && <SignalWord word={word} />}</td>
      <td className={cell.wide}>
        <Link href={`/findings/${row.id}`}>{row.sentence}</Link>
      </td>
      <td className={`nw ${cell.wide}`} data-label="since">
        {dayWords(row.openedAt, zone)}
      </td>
      <td className={`nw ${cell.wide}`} data-label="due">
        {row.closedAt ? "" : late ? <b className="late">{dayWords(row.dueAt, zone)}, overdue</b> : dayWords(row.dueAt, zone)}
      </td>
      <td className={cell.wide} data-label="owner">
        {row.owner ?? <span className="mute">nobody</span>}
      </td>
      <td className="nw" data-label="state">
        {row.closedAt
          ? `closed ${dayWords(row.closedAt, zone)}${row.outcome ? `, ${row.outcome.replaceAll("_", " ")}` : ""}`
          : stateWords[row.state]}
      </td>
    </tr>
  );
}

/** The notices that may cover it, for and against, and what was decided. */
export function CandidateSection({ view }: { view: ApplianceView }) {
  return (
    <PlainSection head="Recall candidates">
      {view.candidates.length === 0 ? (
        <p className="soft">No notice of the loaded lists comes near it. No match found does not mean not recalled.</p>
      ) : (
        <DataTable caption="Recall candidates" cards top>
          <TableHead columns={["Grade", "Notice", "For", "Against", "Decision"]} />
          <tbody>
            {view.candidates.map((row) => (
              <CandidateRow key={row.id} row={row} zone={view.site?.timeZone ?? null} />
            ))}
          </tbody>
        </DataTable>
      )}
    </PlainSection>
  );
}

function reasonWords(row: ViewedCandidate, sign: 1 | -1): string {
  const said = row.reasons.filter((reason) => reason.weight * sign > 0).map((reason) => reason.sentence.replace(/\.$/, ""));
  return said.length === 0 ? "nothing" : `${said.join(". ")}.`;
}

function CandidateRow({ row, zone }: { row: ViewedCandidate; zone: string | null }) {
  const { decision } = row;
  return (
    <tr>
      <td className="nw">{row.grade === "not_covered" ? <span className="mute">not covered</span> : <b>{gradeInWords(row.grade)}</b>}</td>
      <td className={cell.wide}>
        <Link href={`/recalls/review/${row.id}`}>
          <span className="nw">{row.notice.number}</span> {row.notice.title}
        </Link>
      </td>
      <td className={cell.wide} data-label="for:">
        {reasonWords(row, 1)}
      </td>
      <td className={`${cell.wide} ${styles.against}`} data-label="against:">
        {reasonWords(row, -1)}
      </td>
      <td className="nw" data-label="decision:">
        {decision ? (
          `${verdictInWords(decision.verdict)}${decision.by ? `, ${decision.by}` : ""}, ${dayWords(decision.at, zone)}`
        ) : (
          <span className="mute">none yet</span>
        )}
      </td>
    </tr>
  );
}
