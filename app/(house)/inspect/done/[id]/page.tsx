import type { Metadata } from "next";
import Link from "next/link";
import { keptFileLines } from "@/app/_server/kept-files";
import { forPage, requirePage } from "@/app/_server/page";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { DefinitionList } from "@/app/_ui/definition-list";
import { KeepFileForm, KeptFiles } from "@/app/_ui/kept-files";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection, SideSection } from "@/app/_ui/side-section";
import { TagChip } from "@/app/_ui/tag-chip";
import { timeWords } from "@/app/(house)/appliances/_parts/time-words";
import { mayDo } from "@/lib/access/permissions";
import { type Checked, checkItems } from "@/lib/casework/inspection-checklist";
import { figureRules, type JudgedFigure } from "@/lib/casework/inspection-judging";
import { inspectionStandards } from "@/lib/electrical/inspection-limit-tables";
import { getInspection, type ListedInspection } from "@/lib/registry/inspection-sheet";
import { dueDay } from "../../_parts/due-day";

export const metadata: Metadata = { title: "Inspection" };

interface Paper {
  readonly what?: string;
  readonly issuedBy?: string;
  readonly make?: string;
  readonly serial?: string;
  readonly calibratedUntil?: string | null;
}

/** An inspection keeps the name of its standard also when that leaves the table. */
const standards: Readonly<Record<string, { readonly words: string }>> = inspectionStandards;

const day = (text: string) => dueDay(new Date(text));

export default async function InspectionPage({ params }: { params: Promise<{ id: string }> }) {
  const { db, actor } = await requirePage("see inspections");
  const shown = await forPage(getInspection(db, actor, (await params).id));
  const { one, tag, timeZone } = shown;
  const may = mayDo(actor, "record inspections", one.siteId);
  const files = await keptFileLines(db, actor, { kind: "inspection", id: one.id });
  return (
    <>
      <PageHead
        title={`Inspection: ${one.result}`}
        crumbs={[
          { label: "Inspect", href: "/inspect" },
          { label: tag, href: `/appliances/${one.applianceId}` },
        ]}
        lead="An inspection never changes. What was wrong with it is put right by another one that names it."
        cells={[
          { label: "Tag", value: <TagChip tag={tag} /> },
          { label: "Made", value: timeWords(one.at, timeZone) },
          { label: "Signed by", value: one.signedName },
          { label: "Next due", value: one.nextDueAt ? dueDay(one.nextDueAt) : "as before" },
        ]}
      />
      <Standing one={one} />
      <Facts one={one} />
      <Seen one={one} />
      {may && one.correctedById === null && (
        <Acts>
          <ButtonLink href={`/inspect/${one.applianceId}?corrects=${one.id}`}>Correct it by another inspection</ButtonLink>
        </Acts>
      )}
      <PlainSection head="Photos and signature" id="files">
        <KeptFiles files={files} />
        {may && <KeepFileForm kind="inspection" subject={one.id} back={`/inspect/done/${one.id}#files`} />}
      </PlainSection>
    </>
  );
}

function Standing({ one }: { one: ListedInspection }) {
  return (
    <>
      {one.correctedById && (
        <p>
          <b>It does not stand:</b> <Link href={`/inspect/done/${one.correctedById}`}>another one corrects it</Link>.
        </p>
      )}
      {one.correctsId && (
        <p>
          It corrects <Link href={`/inspect/done/${one.correctsId}`}>an earlier one</Link>: {one.correctionWhy}
        </p>
      )}
    </>
  );
}

function paperWords({ what, issuedBy, make, serial, calibratedUntil }: Paper): string {
  if (make) return `${make} ${serial}, calibrated until ${calibratedUntil ? day(calibratedUntil) : "never"}`;
  return `${what}, ${issuedBy}`;
}

function Facts({ one }: { one: ListedInspection }) {
  const reasons = one.reasons as string[];
  const papers = (list: unknown) => (list as Paper[]).map(paperWords).join("; ") || "none";
  return (
    <SideSection head="Result">
      <DefinitionList
        entries={[
          ["Result", one.result],
          reasons.length > 0 ? ["Why", reasons.join(" ")] : null,
          ["Next due", `${one.nextDueAt ? dueDay(one.nextDueAt) : "as before"}. ${one.nextDueWhy}`],
          ["Judged by", standards[one.standard]?.words ?? one.standard],
          ["Class and cord", `${one.protectionClass ? `Class ${one.protectionClass}` : "class not known"}, ${one.cordMetres ?? "?"} m`],
          ["Signed", one.who && one.who !== one.signedName ? `${one.signedName} (signed in as ${one.who})` : one.signedName],
          ["Competence", papers(one.competence)],
          ["Instruments", papers(one.instruments)],
          one.notes ? ["Notes", one.notes] : null,
          one.tookOutOfUse ? ["Appliance", "taken out of use"] : null,
          one.findingId
            ? [
                "Finding",
                <Link key="f" href={`/findings/${one.findingId}`}>
                  the finding of this fail
                </Link>,
              ]
            : null,
        ]}
      />
    </SideSection>
  );
}

function Seen({ one }: { one: ListedInspection }) {
  const checklist = one.checklist as unknown as Checked[];
  const { judged, polarity, functional } = one.measurements as unknown as {
    judged: JudgedFigure[];
    polarity: string | null;
    functional: string | null;
  };
  return (
    <>
      <SideSection head="Seen">
        <DefinitionList
          entries={checklist.map(({ name, verdict, note }): [string, string] => [
            checkItems[name].words,
            note ? `${verdict}: ${note}` : verdict,
          ])}
        />
      </SideSection>
      <SideSection head="Measured">
        <DefinitionList
          entries={[
            ...judged.map(({ name, value, unit, within, rule }): [string, string] => [
              figureRules[name].words,
              `${value} ${unit}, ${within ? "within" : "OUTSIDE"}. ${rule}`,
            ]),
            ["Polarity", polarity ?? "not tried"],
            ["Works", functional ?? "not tried"],
          ]}
        />
      </SideSection>
    </>
  );
}
