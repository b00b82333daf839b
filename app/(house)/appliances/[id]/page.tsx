import type { Metadata } from "next";
import Link from "next/link";
import type { ReactNode } from "react";
import { keptFileLines } from "@/app/_server/kept-files";
import { forPage, requirePage } from "@/app/_server/page";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { KeepFileForm, KeptFiles } from "@/app/_ui/kept-files";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { TagChip } from "@/app/_ui/tag-chip";
import { HoldSection } from "@/app/(house)/_holds/hold-section";
import { InspectionSection } from "@/app/(house)/inspect/_parts/inspection-section";
import { DrawChart, RangeLinks } from "@/app/(house)/readings/draw-chart";
import { mayDo } from "@/lib/access/permissions";
import { stateWords } from "@/lib/registry/appliance-state";
import { type ApplianceView, viewAppliance } from "@/lib/registry/appliance-view";
import { viewBaseline } from "@/lib/registry/documented-baseline";
import { asDrawRange, type DrawSeries, drawSeries } from "@/lib/registry/draw-series";
import { holdsOnAppliance } from "@/lib/store/hold-queries";
import { placeLine } from "../_parts/place-line";
import { agoWords, timeWords } from "../_parts/time-words";
import styles from "./appliance.module.css";
import { Baseline } from "./baseline";
import { CandidateSection, FindingSection } from "./cases";
import { Danger } from "./danger";
import { Facts } from "./facts";
import { HeroPlate } from "./hero-plate";
import { Lanes } from "./lanes";
import { RecordSection } from "./record-section";
import { StateForms } from "./state-forms";

interface Props {
  params: Promise<{ id: string }>;
  searchParams: Promise<Record<string, string | string[]>>;
}

export const metadata: Metadata = { title: "Appliance" };

export default async function AppliancePage({ params, searchParams }: Props) {
  const { db, actor, now } = await requirePage("see appliances");
  const { id } = await params;
  const range = asDrawRange((await searchParams)["range"]);
  const view = await forPage(viewAppliance(db, actor, { id, now }));
  const series = mayDo(actor, "see readings") ? await drawSeries(db, actor, { applianceId: id, range }) : null;
  const mayEdit = mayDo(actor, "edit appliances", view.appliance.siteId);
  return (
    <>
      <Head view={view} now={now} />
      <div className={styles.head}>
        <div className={styles.plate}>
          <HeroPlate view={view} />
        </div>
        <div className={styles.warn}>
          <Danger view={view} mayEdit={mayEdit} />
        </div>
        <div className={styles.facts}>
          <Facts view={view} now={now} />
          {view.appliance.state === "out_of_use" && (
            <p>
              <Link href={`/appliances/${id}/sheet`}>Print the DO NOT USE sheet</Link>
            </p>
          )}
          {mayEdit && <StateForms id={view.appliance.id} state={view.appliance.state} />}
        </div>
      </div>
      <DrawSection series={series} id={id}>
        {mayDo(actor, "see readings") && (
          <Baseline view={view} baseline={await viewBaseline(db, view.appliance, view.site?.timeZone ?? null)} mayEdit={mayEdit} />
        )}
      </DrawSection>
      <PlainSection head="Where it has been" aside={<span className="small soft">{historyWords(view)}</span>}>
        <Lanes view={view} />
      </PlainSection>
      <FindingSection view={view} now={now} />
      <CandidateSection view={view} />
      <InspectionSection db={db} actor={actor} applianceId={id} siteId={view.appliance.siteId} timeZone={view.site?.timeZone ?? null} />
      <PlainSection head="Photos and documents" id="files">
        <KeptFiles files={await keptFileLines(db, actor, { kind: "appliance", id })} />
        {mayEdit && <KeepFileForm kind="appliance" subject={id} back={`/appliances/${id}#files`} />}
      </PlainSection>
      <HoldSection
        kind="appliance"
        id={id}
        holds={await holdsOnAppliance(db, { organisationId: actor.organisationId, applianceId: id, siteId: view.appliance.siteId })}
        mayHold={mayDo(actor, "place holds", view.appliance.siteId)}
      >
        <Acts>
          <ButtonLink href={`/appliances/${id}/incident`} look="plain">
            Report an incident
          </ButtonLink>
        </Acts>
      </HoldSection>
      <RecordSection view={view} maySeeAll={mayDo(actor, "see record") && actor.siteIds === "all"} />
    </>
  );
}

function DrawSection({ series, id, children }: { series: DrawSeries | null; id: string; children: ReactNode }) {
  const links = series && <RangeLinks series={series} hrefOf={(range) => `/appliances/${id}?range=${range}#draw`} />;
  return (
    <PlainSection head="Draw over time" id="draw" aside={links}>
      {series ? <DrawChart series={series} /> : <p className="soft">No reading of it was loaded yet.</p>}
      {children}
    </PlainSection>
  );
}

function Head({ view, now }: { view: ApplianceView; now: Date }) {
  const { appliance, names, site } = view;
  const unit = appliance.unitId === null ? null : names.units.get(appliance.unitId);
  const kind = appliance.category ?? "Appliance";
  const place = unit ? `unit ${unit}` : "shared area";
  return (
    <PageHead
      title={`${kind.charAt(0).toUpperCase()}${kind.slice(1)}, ${place}`}
      crumbs={[{ label: "Appliances", href: "/appliances" }, { label: [site?.name, place].filter(Boolean).join(", ") }]}
      cells={[
        { label: "Tag", value: <TagChip tag={appliance.tag} /> },
        { label: "State", value: stateWords[appliance.state] },
        { label: "Plugged in", value: placeLine(view, appliance, "outlet") ?? "not known" },
        {
          label: "Last seen",
          value: appliance.lastSeenAt
            ? `${timeWords(appliance.lastSeenAt, site?.timeZone ?? null)}, ${agoWords(appliance.lastSeenAt, now)} ago`
            : "never",
        },
      ]}
    />
  );
}

function historyWords({ lanes, placements, observations }: ApplianceView): string {
  if (lanes === null) return "";
  const days = Math.max(1, Math.round((lanes.to.getTime() - lanes.from.getTime()) / 86_400_000));
  const count = (n: number, word: string) => `${n} ${word}${n === 1 ? "" : "s"}`;
  return `${count(days, "day")}, ${count(placements.length, "placement")}, ${count(observations.length, "sighting")} kept; each tick is one`;
}
