import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { PageHead } from "@/app/_ui/page-head";
import { RecordTimeline } from "@/app/(house)/_record/record-timeline";
import { type PlacePlan, viewPlaces } from "@/lib/registry/place-plan";
import { CircuitSection } from "./circuit-section";
import { OutletSection } from "./outlet-section";
import { UnitSection } from "./unit-section";

interface Props {
  params: Promise<{ siteId: string }>;
  searchParams: Promise<Record<string, string | string[]>>;
}

export const metadata: Metadata = { title: "Units, circuits and outlets" };

/** The forms of one unit's circuits and outlets, or of what belongs to no unit; `edit` names the place being changed. */
export default async function PlacesPage({ params, searchParams }: Props) {
  const { db, actor } = await requirePage("edit places");
  const { siteId } = await params;
  const asked = await searchParams;
  const text = (name: string) => (typeof asked[name] === "string" ? asked[name] : null);
  const plan = await forPage(viewPlaces(db, actor, { siteId, unitId: text("unit") }));
  const editId = text("edit");
  const base = `/building/${siteId}/places`;
  const here = plan.unit ? `${base}?unit=${plan.unit.id}` : base;
  const page = { plan, editId, base, here };
  return (
    <>
      <PageHead
        title={plan.unit ? `Unit ${plan.unit.name}: circuits and outlets` : "Units, circuits and outlets"}
        lead={plan.unit ? undefined : "Choose a unit for its circuits and outlets; those of the house stand here."}
        crumbs={[
          { label: "Building", href: "/building" },
          { label: plan.site.name, href: `/building/${siteId}` },
          ...(plan.unit ? [{ label: "places", href: base }, { label: plan.unit.name }] : [{ label: "places" }]),
        ]}
      />
      <UnitSection {...page} />
      <CircuitSection {...page} />
      <OutletSection {...page} />
      <RecordTimeline db={db} actor={actor} ids={placeIds(plan)} timeZone={plan.site.timeZone} />
    </>
  );
}

/** The open unit with its circuits and outlets, or what belongs to no unit. */
function placeIds({ unit, circuits, outlets }: PlacePlan): string[] {
  return [...(unit ? [unit.id] : []), ...circuits.map(({ id }) => id), ...outlets.map(({ id }) => id)];
}
