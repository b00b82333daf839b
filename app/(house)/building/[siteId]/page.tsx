import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { RecordTimeline } from "@/app/(house)/_record/record-timeline";
import { mayDo } from "@/lib/access/permissions";
import { type SiteView, viewSite } from "@/lib/registry/place-building";
import { timeWords } from "../../appliances/_parts/time-words";
import { openWordsLine } from "../_parts/open-words";
import { DangerList } from "./danger-list";
import { Elevation } from "./elevation";
import { OpenUnit } from "./open-unit";
import styles from "./site.module.css";
import { SiteLinks } from "./site-links";
import { UnitList } from "./unit-list";

interface Props {
  params: Promise<{ siteId: string }>;
  searchParams: Promise<Record<string, string | string[]>>;
}

export const metadata: Metadata = { title: "Building" };

export default async function SitePage({ params, searchParams }: Props) {
  const { db, actor, now } = await requirePage("see places");
  const { siteId } = await params;
  const view = await forPage(viewSite(db, actor, siteId));
  const asked = (await searchParams)["unit"];
  const units = view.floors.flatMap((floor) => floor.units);
  const open = units.find((unit) => unit.id === asked) ?? null;
  const mayEdit = mayDo(actor, "edit places", siteId);
  return (
    <>
      <Head view={view} unitCount={units.length} />
      {units.length === 0 ? (
        <EmptyState
          head="No unit is laid out yet"
          action={mayEdit ? <ButtonLink href={`/building/${siteId}/places`}>Lay it out</ButtonLink> : undefined}
        >
          Add its units, circuits and outlets by form, or bring in a places file.
        </EmptyState>
      ) : (
        <div className={styles.page}>
          <Elevation view={view} openId={open?.id ?? null} />
          <div className={styles.below}>
            {open ? <OpenUnit db={db} actor={actor} view={view} unit={open} /> : <UnitList view={view} />}
            <DangerList view={view} now={now} />
          </div>
        </div>
      )}
      <div className={styles.after}>
        <SiteLinks actor={actor} siteId={siteId} />
      </div>
      <RecordTimeline db={db} actor={actor} ids={[siteId]} timeZone={view.site.timeZone} />
    </>
  );
}

function Head({ view, unitCount }: { view: SiteView; unitCount: number }) {
  const { site, floors, circuits, open, upTo } = view;
  const numbered = floors.filter((floor) => floor.name !== null).length;
  const vacant = floors.flatMap((floor) => floor.units).filter((unit) => unit.appliances === 0).length;
  const over = circuits.filter(({ share }) => share !== null && share > 1).length;
  const high = circuits.filter(({ share }) => share !== null && share > 0.8 && share <= 1).length;
  return (
    <PageHead
      title={site.name}
      crumbs={[{ label: "Building", href: "/building" }, { label: site.name }]}
      lead={
        <>
          {figures(unitCount)} {unitCount === 1 ? "unit" : "units"}
          {numbered > 1 && ` on ${numbered} floors`}. <b>{openWordsLine(open) ?? "Nothing is open"}</b>
          {vacant > 0 && `; ${vacant} without an appliance`}.
        </>
      }
      cells={[
        { label: "Circuits", value: figures(circuits.length) },
        { label: "Over their device", value: figures(over) },
        { label: "Over 80 %", value: figures(high) },
        { label: "Readings", value: upTo ? `up to ${timeWords(upTo, site.timeZone)}` : "none yet" },
      ]}
    />
  );
}
