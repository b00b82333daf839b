import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { forPage, requirePage } from "@/app/_server/page";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { TagChip } from "@/app/_ui/tag-chip";
import { holdsOn } from "@/lib/casework/inspection-papers";
import { plateFacts } from "@/lib/registry/inspection";
import { competencePaper } from "@/lib/registry/inspection-competence";
import { type InspectionSheet, inspectionSheet } from "@/lib/registry/inspection-sheet";
import { instrumentPaper } from "@/lib/registry/instrument";
import { InspectForm } from "./inspect-form";
import type { JudgedBy } from "./judging";
import { KnownFacts } from "./known-facts";

export const metadata: Metadata = { title: "Inspect" };

interface Props {
  params: Promise<{ applianceId: string }>;
  searchParams: Promise<Record<string, string | string[]>>;
}

/** Only back into a round: any other address could be a stranger's. */
const backOf = (given: string | string[] | undefined) =>
  typeof given === "string" && /^\/inspect\/round(\?|$)/.test(given) ? given : null;

export default async function InspectAppliancePage({ params, searchParams }: Props) {
  const { db, actor, now } = await requirePage("record inspections");
  const { applianceId } = await params;
  const given = await searchParams;
  const sheet = await forPage(inspectionSheet(db, actor, { applianceId, now }));
  const { appliance } = sheet.view;
  const corrects = sheet.inspections.find(({ id, correctedById }) => id === given["corrects"] && correctedById === null);
  if (given["corrects"] !== undefined && !corrects) notFound();
  return (
    <>
      <PageHead
        title={corrects ? "Correct an inspection" : "Inspect"}
        crumbs={[
          { label: "Inspect", href: "/inspect" },
          { label: appliance.tag, href: `/appliances/${appliance.id}` },
        ]}
        cells={[{ label: "Tag", value: <TagChip tag={appliance.tag} /> }]}
      />
      <SignalBanner word="CAUTION">
        <p>
          Only for people who are competent to inspect and test, by local code and the maker's instructions. Unplug it before you look
          closely; never open it or touch what may be live. Stop and take it out of use when it looks dangerous.
        </p>
      </SignalBanner>
      <SideSection head="Known">
        <KnownFacts sheet={sheet} />
        <PapersWord sheet={sheet} now={now} />
      </SideSection>
      <InspectForm
        subject={{ userId: actor.userId ?? "", applianceId: appliance.id, tag: appliance.tag, correctsId: corrects?.id ?? null }}
        name={actor.name}
        known={{
          environment: sheet.policy.environment,
          protectionClass: sheet.protectionClass ?? "",
          cordMetres: sheet.last?.cordMetres?.toString() ?? "",
        }}
        by={judgedBy(sheet)}
        isInUse={appliance.state === "in_use"}
        back={backOf(given["back"])}
      />
    </>
  );
}

function judgedBy({ view: { appliance }, policy, instruments, competences, last }: InspectionSheet): JudgedBy {
  return {
    standard: policy.standard,
    plate: plateFacts(appliance),
    category: appliance.category,
    competences: competences.map(competencePaper),
    instruments: instruments.map((one) => ({ id: one.id, ...instrumentPaper(one) })),
    ownMonths: policy.months,
    dueBefore: last?.nextDueAt ?? null,
  };
}

/** Says beforehand that the papers will not do. */
function PapersWord({ sheet, now }: { sheet: InspectionSheet; now: Date }) {
  if (sheet.competences.some(({ validUntil }) => holdsOn(validUntil, now))) return null;
  return (
    <p className="over">
      No valid competence of yours is on record: what you find counts, but the inspection will be limited and does not count as a pass.
    </p>
  );
}
