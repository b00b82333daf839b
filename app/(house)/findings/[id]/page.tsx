import type { Metadata } from "next";
import { keptFileLines } from "@/app/_server/kept-files";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { FormId } from "@/app/_ui/form-id";
import { KeepFileForm, KeptFiles } from "@/app/_ui/kept-files";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection, SideSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { RecordTimeline } from "@/app/(house)/_record/record-timeline";
import { mayDo } from "@/lib/access/permissions";
import { causeWords } from "@/lib/casework/cause";
import { cautionFor } from "@/lib/casework/cautions";
import { dueWords } from "@/lib/casework/due-words";
import { isStep, stateWords } from "@/lib/casework/step";
import { type FindingDetail, getFinding } from "@/lib/registry/finding-detail";
import { watchAction } from "../guest-actions";
import { Evidence } from "./_parts/evidence";
import styles from "./_parts/finding.module.css";
import { FindingThing } from "./_parts/finding-thing";
import { GuestForm } from "./_parts/guest-form";
import { History } from "./_parts/history";
import { NextSteps } from "./_parts/next-steps";
import { OccupantSection } from "./occupant/occupant-section";

export const metadata: Metadata = { title: "Finding" };

interface Props {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<Record<string, string | string[]>>;
}

export default async function FindingPage({ params, searchParams }: Props) {
  const { db, actor, now } = await requirePage("see findings");
  const detail = await forPage(getFinding(db, actor, { id: (await params).id }));
  const asked = String((await searchParams)["step"] ?? "");
  const step = isStep(asked) && detail.steps.includes(asked) ? asked : null;
  return (
    <>
      <Head detail={detail} now={now} />
      <div className={styles.ahead}>
        <FindingThing detail={detail} />
        <div className={styles.warn}>
          <Now detail={detail} />
          <NextSteps detail={detail} chosen={step} now={now} />
        </div>
      </div>
      <PlainSection head="What it rests on" id="evidence">
        <Evidence detail={detail} />
      </PlainSection>
      <PlainSection head="Photos and documents" id="files">
        <KeptFiles files={await keptFileLines(db, actor, { kind: "finding", id: detail.finding.id })} />
        {mayDo(actor, "work findings", detail.finding.siteId) && (
          <KeepFileForm kind="finding" subject={detail.finding.id} back={`/findings/${detail.finding.id}#files`} />
        )}
      </PlainSection>
      <OccupantSection db={db} actor={actor} detail={detail} />
      {detail.facts.state !== "closed" && mayDo(actor, "work findings", detail.finding.siteId) && (
        <SideSection head="Somebody from outside" id="guests" note="A link to this finding alone, for whoever has no sign-in here.">
          <GuestForm findingId={detail.finding.id} isDanger={detail.facts.signalWord === "DANGER"}>
            <FormId />
          </GuestForm>
        </SideSection>
      )}
      <PlainSection head="History" id="history" aside={<Watch detail={detail} />}>
        <History detail={detail} />
      </PlainSection>
      <RecordTimeline db={db} actor={actor} ids={[detail.finding.id]} timeZone={detail.timeZone} />
    </>
  );
}

function Watch({ detail: { finding, isWatching } }: { detail: FindingDetail }) {
  if (finding.state === "closed") return null;
  return (
    <ActionForm action={watchAction}>
      <input type="hidden" name="findingId" value={finding.id} />
      <input type="hidden" name="on" value={isWatching ? "no" : "yes"} />
      <Button look="quiet">{isWatching ? "Do not tell me when it is overdue" : "Tell me when it is overdue"}</Button>
    </ActionForm>
  );
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

function Head({ detail, now }: { detail: FindingDetail; now: Date }) {
  const { finding, facts, timeZone, appliance, place, owner, title } = detail;
  const due = dueWords(finding.dueAt, now, timeZone);
  const isClosed = facts.state === "closed";
  return (
    <PageHead
      crumbs={[{ label: "Findings", href: "/findings" }, { label: causeWords[facts.cause] }]}
      title={appliance ? `${capital(appliance.category ?? "appliance")}, ${place.unit ? `unit ${place.unit}` : place.site}` : title}
      lead={finding.sentence}
      cells={[
        { label: "State", value: stateWords[facts.state] },
        {
          label: "Due",
          value: isClosed ? "done" : <span className={due.late ? "late" : undefined}>{due.words.replace(/^Due /, "")}</span>,
        },
        { label: "Owner", value: owner ?? "nobody yet" },
        { label: "Seen", value: finding.timesSeen === 1 ? "once" : `${finding.timesSeen} times` },
      ]}
    />
  );
}

/** The caution stands before the buttons; a closed finding has none. */
function Now({ detail }: { detail: FindingDetail }) {
  const { facts } = detail;
  if (facts.state === "closed") return null;
  const { first, more } = cautionFor(facts);
  return (
    <SignalBanner word={facts.signalWord} stacked>
      <p>
        <b>{first}</b>
      </p>
      {more.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </SignalBanner>
  );
}
