import Link from "next/link";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { asSignalWord, SignalWord } from "@/app/_ui/signal-word";
import { TagChip } from "@/app/_ui/tag-chip";
import { stateWords } from "@/lib/casework/step";
import { gradeInWords } from "@/lib/matching/candidate";
import type { NoticeThen } from "@/lib/registry/as-of";
import { verdictWords } from "@/lib/registry/decision-standing";
import { whereThen } from "@/lib/registry/site-then";
import { dayWords } from "../../../../appliances/_parts/time-words";
import styles from "../../../../recalls/_parts/recalls.module.css";
import { type Shown, TableSection } from "./table-section";

/** The findings that were open on the day. */
export function FindingsThen(shown: Shown) {
  const { page, known } = shown;
  return (
    <TableSection {...shown} table="findings" head="Open findings" count={known.openFindings.length} empty="Nothing was open.">
      <DataTable caption="Findings that were open" cards top>
        <TableHead columns={["Word", "What", "State then", "Opened", "Due"]} />
        <tbody>
          {known.openFindings.map((row) => {
            const word = asSignalWord(row.signalWord);
            return (
              <tr key={row.id}>
                <td>{word && <SignalWord word={word} />}</td>
                <td className={cell.wide}>
                  <Link href={`/findings/${row.id}`}>{row.sentence}</Link>
                  <Tag shown={shown} id={row.applianceId} />
                </td>
                <td data-label="state then">{stateWords[row.state]}</td>
                <td className="nw" data-label="opened">
                  {dayWords(row.openedAt, page.site.timeZone)}
                </td>
                <td className="nw" data-label="due">
                  {row.dueAt ? dayWords(row.dueAt, page.site.timeZone) : "not told"}
                </td>
              </tr>
            );
          })}
        </tbody>
      </DataTable>
    </TableSection>
  );
}

function Tag({ shown: { known }, id }: { shown: Shown; id: string | null }) {
  const appliance = known.names.appliances.get(id ?? "");
  if (!appliance) return null;
  return (
    <span className={cell.second}>
      <TagChip tag={appliance.tag} href={`/appliances/${appliance.id}`} /> {whereThen(appliance, known.names)}
    </span>
  );
}

function Notice({ notice }: { notice: NoticeThen | undefined }) {
  if (!notice) return <>a notice that is not known any more</>;
  return (
    <>
      <Link className="nw" href={`/recalls/${notice.id}`}>
        {notice.number}
      </Link>
      <span className={styles.quoted}>{notice.title}</span>
    </>
  );
}

/** Appliances that a notice might cover and that nobody had decided on. */
export function RecallsThen(shown: Shown) {
  const { page, known } = shown;
  const { open, notices } = known.then;
  return (
    <TableSection
      {...shown}
      table="recalls"
      head="Recalls not decided"
      count={open.length}
      empty="None waited for a decision. No match found does not mean not recalled."
    >
      <DataTable caption="Recalls that nobody had decided on" cards top>
        <TableHead columns={["Appliance", "Notice", "Grade", "Since"]} />
        <tbody>
          {open.map((row) => (
            <tr key={`${row.noticeId} ${row.applianceId}`}>
              <td>
                <Tag shown={shown} id={row.applianceId} />
              </td>
              <td className={cell.wide}>
                <Notice notice={notices.get(row.noticeId)} />
              </td>
              <td data-label="grade">
                {gradeInWords(row.grade)}
                {row.question && <span className={cell.second}>{row.question}</span>}
              </td>
              <td className="nw" data-label="since">
                {dayWords(row.raisedAt, page.site.timeZone)}
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </TableSection>
  );
}

/** The latest decision on each pair by the day, with its reason. */
export function DecisionsThen(shown: Shown) {
  const { page, known } = shown;
  const { decisions, notices } = known.then;
  return (
    <TableSection {...shown} table="decisions" head="Decisions on recalls" count={decisions.length} empty="Nothing was decided by then.">
      <DataTable caption="Decisions taken by then" cards top>
        <TableHead columns={["Appliance", "Notice", "Decided", "By and when"]} />
        <tbody>
          {decisions.map((row) => (
            <tr key={row.noticeId + row.applianceId}>
              <td>
                <Tag shown={shown} id={row.applianceId} />
              </td>
              <td className={cell.wide}>
                <Notice notice={notices.get(row.noticeId)} />
              </td>
              <td className={cell.wide}>
                <b>{verdictWords[row.verdict]}</b>
                {!row.stood && ", opened again by then"}
                <span className={cell.second}>{row.reason}</span>
              </td>
              <td data-label="by and when">
                {row.byUserId === null ? "command line" : (known.names.people.get(row.byUserId) ?? "somebody who has left")}
                <span className={cell.second}>{dayWords(row.at, page.site.timeZone)}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </TableSection>
  );
}
