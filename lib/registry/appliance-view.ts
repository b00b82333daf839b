import type { Actor } from "@/lib/access/actor";
import { loadKindOf } from "@/lib/electrical/load-kind";
import { type AllowedInput, allowedInput, ratedInput } from "@/lib/electrical/permitted-deviation";
import type { Appliance } from "@/lib/store/appliance-queries";
import { type ApplianceSurroundings, surroundingsOf } from "@/lib/store/appliance-view-queries";
import type { Db } from "@/lib/store/client";
import { getAppliance } from "./appliance";
import { ratingOf } from "./appliance-columns";
import { absentAfterDays } from "./appliance-list";
import { type PlacementLanes, placementLanes } from "./placement-lanes";
import { supplyOfSite } from "./site-policy";

export interface ApplianceView extends ApplianceSurroundings {
  readonly appliance: Appliance;
  readonly rated: { readonly watts: number | null; readonly amps: number | null };
  /** What it may draw, and the sentence that says how this came about. */
  readonly allowed: AllowedInput;
  /** One sentence each, with the arithmetic. */
  readonly contradictions: readonly string[];
  readonly lanes: PlacementLanes | null;
}

/** Everything that is known of one appliance. */
export async function viewAppliance(db: Db, actor: Actor, ask: { readonly id: string; readonly now: Date }): Promise<ApplianceView> {
  const appliance = await getAppliance(db, actor, ask.id);
  const around = await surroundingsOf(db, appliance);
  const rating = ratingOf(appliance);
  const { volts, deviation } = await supplyOfSite(db, { id: appliance.siteId, nominalVolts: around.site?.nominalVolts ?? null });
  const lanes = placementLanes({
    stays: around.placements,
    ticks: around.observations,
    now: ask.now,
    absentAfterMs: absentAfterDays * 86_400_000,
  });
  return {
    ...around,
    appliance,
    rated: ratedInput(rating, volts),
    allowed: allowedInput(rating, loadKindOf(appliance.category), volts, deviation),
    contradictions: rating.contradictions,
    lanes,
  };
}
