import type { Metadata } from "next";
import Link from "next/link";
import { z } from "zod";
import { forPage, requirePage } from "@/app/_server/page";
import { StopUse } from "@/app/_ui/cautions";
import { DefinitionList } from "@/app/_ui/definition-list";
import { LimitBar } from "@/app/_ui/limit-bar";
import { PageHead } from "@/app/_ui/page-head";
import { Plate } from "@/app/_ui/plate";
import { PlainSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { TagChip } from "@/app/_ui/tag-chip";
import { mayDo } from "@/lib/access/permissions";
import { gradeWords } from "@/lib/matching/candidate";
import { getReview, type PastDecision, type Review } from "@/lib/registry/review";
import type { SearchParams } from "../../_parts/address";
import { FieldTable } from "../../_parts/field-table";
import { dayWords, gradeSentences, standingWords } from "../../_parts/grade-words";
import { MarkedNotice } from "../../_parts/marked-notice";
import { RegulatorLink } from "../../_parts/regulator-link";
import { placeWords, shownPlate } from "../../_parts/shown-plate";
import { Answers } from "./answers";
import { AskPanel } from "./ask-panel";
import { DecideForm } from "./decide-form";
import { chosenAtFirst, IdenticalTable } from "./identical-table";
import styles from "./review.module.css";
import { Since } from "./since";

export const metadata: Metadata = { title: "Review" };

const address = z.object({
  choose: z.literal("open").optional().catch(undefined),
  all: z.literal("1").optional().catch(undefined),
  verdict: z.enum(["affected", "not_affected", "unsure"]).optional().catch(undefined),
  why: z.string().max(400).optional().catch(undefined),
  read: z.string().max(200).optional().catch(undefined),
  told: z.string().max(200).optional().catch(undefined),
});

export default async function ReviewPage(props: { params: Promise<{ candidateId: string }>; searchParams: SearchParams }) {
  const { db, actor } = await requirePage("see recalls");
  const { candidateId } = await props.params;
  const chosen = address.parse(await props.searchParams);
  const review = await forPage(getReview(db, actor, { candidateId }));
  const { candidate, coverage, identical } = review;
  const ticked = chosenAtFirst(identical, candidateId, chosen.choose === "open");
  const { siteId } = candidate.appliance;
  const mayAnswer = mayDo(actor, "edit appliances", siteId) || mayDo(actor, "decide candidates", siteId);
  return (
    <>
      <Head review={review} />
      {chosen.read !== undefined && <JustRead value={chosen.read} review={review} />}
      {chosen.told !== undefined && <JustTold value={chosen.told} />}
      <Standing review={review} />
      {review.since && review.decisions[0] && <Since since={review.since} decidedAt={review.decisions[0].at} />}
      {candidate.ask && <AskPanel candidateId={candidateId} ask={candidate.ask} coverage={coverage} mayAnswer={mayAnswer} />}
      <div className={styles.twoUp}>
        <Appliance review={review} />
        <section className={styles.notice}>
          <div className={styles.head}>
            <h2>The notice, in its own words</h2>
            <RegulatorLink notice={review.notice} />
          </div>
          {review.isCorrected && (
            <p className="small">
              A person corrected how it is read: <Link href={`/recalls/${candidate.noticeId}#corrections`}>what and why</Link>.
            </p>
          )}
          <MarkedNotice notice={review.notice} coverage={coverage} reasons={candidate.reasons} />
        </section>
      </div>
      <PlainSection head="Field by field">
        <FieldTable reasons={candidate.reasons} ask={candidate.ask} score={candidate.score} />
      </PlainSection>
      {mayDo(actor, "decide candidates", siteId) ? (
        <DecideForm
          key={`${candidateId} ${chosen.choose ?? ""} ${chosen.verdict ?? ""}`}
          candidateId={candidateId}
          noticeHash={candidate.notice.contentHash}
          verdict={chosen.verdict ?? null}
          reason={chosen.why ?? ""}
          chosen={ticked.size}
          nextHref={review.nextId === null ? null : `/recalls/review/${review.nextId}`}
          signer={actor.name}
        >
          <IdenticalTable
            identical={identical}
            candidateId={candidateId}
            chosen={ticked}
            showAll={chosen.all === "1" || chosen.choose === "open"}
          />
        </DecideForm>
      ) : (
        <PlainSection head="Decide">
          <p>Your role reads labels and answers the question; a manager or inspector decides.</p>
        </PlainSection>
      )}
      {review.answers.length > 0 && <Answers answers={review.answers} candidateId={candidateId} mayAnswer={mayAnswer} />}
      {review.decisions.length > 0 && <Decisions decisions={review.decisions} />}
    </>
  );
}

function countWords(identical: Review["identical"]): string {
  const count = (wanted: (item: Review["identical"][number]) => boolean) => identical.filter(wanted).length;
  const ruledOut = count(({ candidate }) => candidate.grade === "not_covered" && candidate.standing === "undecided");
  const open = count(({ candidate }) => candidate.standing === "undecided" || candidate.standing === "reopened") - ruledOut;
  const parts = [`${open} undecided`, `${identical.length - open - ruledOut} decided`, ...(ruledOut > 0 ? [`${ruledOut} ruled out`] : [])];
  return parts.join(", ");
}

function Head({ review }: { review: Review }) {
  const { candidate, place, identical } = review;
  const { appliance, notice, grade } = candidate;
  const kind = appliance.category?.toLowerCase() ?? "appliance";
  return (
    <PageHead
      title={
        <>
          Is this {kind} covered by notice <span className="nw">{notice.number}</span>?
        </>
      }
      crumbs={[{ label: "Recalls", href: "/recalls" }, { label: notice.number, href: `/recalls/${notice.id}` }, { label: appliance.tag }]}
      lead={
        <>
          <b>{`${gradeWords[grade][0]?.toUpperCase()}${gradeWords[grade].slice(1)}.`}</b> {gradeSentences[grade]}
        </>
      }
      cells={[
        { label: "Appliance", value: `${appliance.tag}, ${place.unit === null ? "shared area" : `unit ${place.unit}`}` },
        { label: "Identical", value: countWords(identical) },
        { label: "Decision", value: standingWords[candidate.standing] },
      ]}
    />
  );
}

/** What an answer led to, said once it is stored. */
function JustRead({ value, review }: { value: string; review: Review }) {
  const { grade } = review.candidate;
  return (
    <div className={styles.stop} role="status">
      <SignalBanner word="NOTICE">
        <p>
          <b>Read as “{value}”, kept with the appliance.</b> It now says “{gradeWords[grade]}”.
          {grade !== "check_label" && " Decide below, so that it leaves the list."}
        </p>
      </SignalBanner>
    </div>
  );
}

/** What an occupant said and what it did not do. */
function JustTold({ value }: { value: string }) {
  return (
    <div className={styles.stop} role="status">
      <SignalBanner word="NOTICE">
        <p>
          <b>Kept as the occupant's word: “{value}”.</b> It would clear the appliance, which takes somebody of the staff who read the label
          or saw a photograph of it. Until then it counts as before.
        </p>
      </SignalBanner>
    </div>
  );
}

/** What to know before anything else: a decision that fell, or that it is dangerous. */
function Standing({ review }: { review: Review }) {
  const { candidate, decisions } = review;
  const [latest] = decisions;
  return (
    <>
      {candidate.standing === "reopened" && latest && (
        <div className={styles.stop}>
          <SignalBanner word="NOTICE">
            <p>
              <b>Decide again.</b> {latest.by} decided “{standingWords[latest.verdict]}” on {dayWords(latest.at)}: {latest.reason}
            </p>
            <p>{latest.reopenedWhy}</p>
          </SignalBanner>
        </div>
      )}
      {candidate.standing !== "not_affected" && candidate.grade !== "not_covered" && (
        <div className={styles.stop}>
          <StopUse>A match is not proof; until it is settled, treat it as covered.</StopUse>
        </div>
      )}
    </>
  );
}

function Appliance({ review }: { review: Review }) {
  const { candidate, place } = review;
  const { appliance } = candidate;
  return (
    <section className={styles.appliance}>
      <h2>The appliance</h2>
      <Plate size="card" plate={shownPlate(appliance)} />
      {appliance.seenWatts !== null && <LimitBar seen={appliance.seenWatts} allowed={appliance.allowedWatts} unit="W" />}
      <DefinitionList
        entries={[
          ["Tag", <TagChip key="tag" tag={appliance.tag} href={`/appliances/${appliance.id}`} />],
          appliance.labelText ? ["As read", <Known key="read" value={appliance.labelText} code />] : null,
          ["Kind", <Known key="kind" value={appliance.category} none="not recorded" />],
          ["Date code", <Known key="code" value={appliance.dateCode} code />],
          ["Made", <Known key="made" value={appliance.made} none="not known" />],
          ["Where", placeWords(place)],
          ["State", appliance.state === "in_use" ? "in use" : "out of use"],
        ]}
      />
    </section>
  );
}

/** A fact, or in grey that it is not there. */
function Known({ value, none = "not read", code }: { value: string | null; none?: string; code?: boolean }) {
  if (value === null) return <span className="mute">{none}</span>;
  return <span className={code ? styles.raw : undefined}>{value}</span>;
}

function Decisions({ decisions }: { decisions: readonly PastDecision[] }) {
  return (
    <PlainSection head="Decisions so far">
      <ul className={styles.past}>
        {decisions.map(({ verdict, reason, at, by, replacedAt, reopenedAt, reopenedWhy }) => (
          <li key={at.toISOString()}>
            <b>{standingWords[verdict]}</b>, {by}, {dayWords(at)}
            {replacedAt ? `, replaced ${dayWords(replacedAt)}` : reopenedAt ? `, reopened ${dayWords(reopenedAt)}` : ", stands"}
            <p className={styles.said}>{reason}</p>
            {reopenedWhy && <p className="small soft">{reopenedWhy}</p>}
          </li>
        ))}
      </ul>
    </PlainSection>
  );
}
