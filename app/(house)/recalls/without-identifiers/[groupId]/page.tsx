import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { StopUse } from "@/app/_ui/cautions";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { tickClass } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { Plate } from "@/app/_ui/plate";
import { PlainSection } from "@/app/_ui/side-section";
import { TagChip } from "@/app/_ui/tag-chip";
import { mayDo } from "@/lib/access/permissions";
import type { CandidateRow } from "@/lib/registry/recall-overview";
import { type GroupReview, getGroupReview } from "@/lib/registry/unidentified-groups";
import { CandidateTable } from "../../_parts/candidate-table";
import { dayWords } from "../../_parts/grade-words";
import styles from "../../_parts/recalls.module.css";
import { placeWords, shownPlate } from "../../_parts/shown-plate";
import { answerWords } from "../answer-words";
import { GroupForm } from "./answer-form";
import own from "./group.module.css";

export const metadata: Metadata = { title: "Answer for a group" };

export default async function GroupPage({ params }: { params: Promise<{ groupId: string }> }) {
  const { db, actor } = await requirePage("see recalls");
  const { groupId } = await params;
  const review = await forPage(getGroupReview(db, actor, { groupId }));
  const { group, answered, answers } = review;
  return (
    <>
      <Head review={review} />
      <PlainSection head="What the notices say">
        {group.notices.map((notice) => (
          <p key={notice.id} className={own.notice}>
            <Link className={styles.number} href={`/recalls/${notice.id}`}>
              {notice.number}
            </Link>
            {notice.date && <span className="mute"> {dayWords(notice.date)}</span>}
            <span className={styles.quoted}>{notice.title}</span>
          </p>
        ))}
        <p className="small soft">Open a notice for its whole text and for the pictures at the regulator's site.</p>
      </PlainSection>
      <Answer review={review} mayDecide={mayDo(actor, "decide candidates")} signer={actor.name} />
      {answers.length > 0 && (
        <PlainSection head="Answers so far">
          <ul className={own.answers}>
            {answers.map((answer) => (
              <li key={answer.at.toISOString()}>
                <b>{answerWords(answer)}</b>
                <p className={own.said}>{answer.reason}</p>
              </li>
            ))}
          </ul>
        </PlainSection>
      )}
      {answered.length > 0 && (
        <PlainSection head="Settled, or to be looked at one by one">
          <CandidateTable caption="Settled, or to be looked at one by one" rows={answered.slice(0, rowsShown)} />
          {answered.length > rowsShown && (
            <p className="small soft">
              The first {rowsShown} of {figures(answered.length)}.
            </p>
          )}
        </PlainSection>
      )}
    </>
  );
}

const rowsShown = 100;

const leads: Readonly<Record<GroupReview["state"], string>> = {
  asks: "Maker and kind point at appliances here. Read the notices, look at the appliances, and answer once.",
  amended: "It was answered, and its notices changed since. Nothing here waits; answer again if you like.",
  answered: "It is answered. An appliance of this maker and kind that comes in later asks by itself.",
  silent: "Nothing here is of that maker and kind. You may answer beforehand; an appliance that comes in later asks by itself.",
};

function Head({ review }: { review: GroupReview }) {
  const { group, asking, state } = review;
  return (
    <PageHead
      title={`${group.maker}, ${group.kind}`}
      crumbs={[
        { label: "Recalls", href: "/recalls" },
        { label: "Without identifiers", href: "/recalls/without-identifiers" },
        { label: group.maker },
      ]}
      lead={leads[state]}
      cells={[
        { label: "Notices", value: figures(group.notices.length) },
        { label: "Waiting", value: figures(asking.length) },
        { label: "Answered", value: figures(review.answered.length) },
      ]}
    />
  );
}

/** Of an appliance that several notices point at, the first row stands for all. */
function byAppliance(rows: readonly CandidateRow[]): { row: CandidateRow; numbers: string[] }[] {
  const found = new Map<string, { row: CandidateRow; numbers: string[] }>();
  for (const row of rows) {
    const { applianceId, notice } = row.candidate;
    const known = found.get(applianceId);
    if (known) known.numbers.push(notice.number);
    else found.set(applianceId, { row, numbers: [notice.number] });
  }
  return [...found.values()];
}

function Answer({ review, mayDecide, signer }: { review: GroupReview; mayDecide: boolean; signer: string }) {
  const { group, asking, answered, seen } = review;
  const waiting = byAppliance(asking);
  const list = waiting.length > 0 && <Waiting waiting={waiting} areNew={answered.length > 0} mayDecide={mayDecide} />;
  return (
    <PlainSection head="Are any of ours meant?" id="answer">
      {waiting.length > 0 && (
        <div className={styles.stop}>
          <StopUse>Until it is answered, treat every appliance below as covered.</StopUse>
        </div>
      )}
      {mayDecide ? (
        <GroupForm groupId={group.id} seen={seen} waiting={waiting.length} signer={signer}>
          {list}
        </GroupForm>
      ) : (
        <>
          {list}
          <p>Your role looks at appliances; a manager or inspector answers.</p>
        </>
      )}
    </PlainSection>
  );
}

function Waiting({ waiting, areNew, mayDecide }: { waiting: ReturnType<typeof byAppliance>; areNew: boolean; mayDecide: boolean }) {
  return (
    <DataTable caption={areNew ? "New since the answer: these ask" : "These ask"} showCaption cards>
      <TableHead columns={[...(mayDecide ? [spokenColumn("May be meant")] : []), "Appliance", "Where", "Notices"]} />
      <tbody>
        {waiting.map(({ row, numbers }) => (
          <Row key={row.candidate.applianceId} row={row} numbers={numbers} mayDecide={mayDecide} />
        ))}
      </tbody>
    </DataTable>
  );
}

function Row({ row, numbers, mayDecide }: { row: CandidateRow; numbers: readonly string[]; mayDecide: boolean }) {
  const { appliance } = row.candidate;
  return (
    <tr className={own.pick}>
      {mayDecide && (
        <td>
          <input
            className={tickClass}
            type="checkbox"
            name="applianceIds"
            value={appliance.id}
            aria-label={`${appliance.tag} may be meant`}
          />
        </td>
      )}
      <td className={cell.wide}>
        <Plate size="row" plate={shownPlate(appliance)} href={`/appliances/${appliance.id}`} />
        <span className={styles.under}>
          <TagChip tag={appliance.tag} href={`/appliances/${appliance.id}`} />
          <Link href={`/recalls/review/${row.candidate.id}`}>
            Review<span className="vh"> {appliance.tag}</span>
          </Link>
        </span>
      </td>
      <td className={cell.wide}>{placeWords(row.place)}</td>
      <td className={cell.wide}>{[...numbers].sort().join(", ")}</td>
    </tr>
  );
}
