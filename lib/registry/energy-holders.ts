import type { Db } from "@/lib/store/client";
import { staysAtOutlets } from "@/lib/store/energy-queries";
import { type HolderChange, type HolderStay, holderTimeline } from "@/lib/watch/energy-holder";
import { type LogPlan, receptacleOf } from "./log-plan";

/** Who held which receptacle when. `alone`: it is the outlet's only receptacle with readings. */
export type HoldersOf = (outletId: string, receptacle: string, alone: boolean) => readonly HolderChange[];

interface OutletStay extends HolderStay {
  readonly receptacle: string;
}

/**
 * Reads the placements at these outlets. An appliance's first known place counts from before it was recorded, as the screening takes it.
 * A stay without a receptacle counts where only one receptacle has readings; readings without one go to the outlet's only appliance.
 */
export async function readHolders(db: Db, plan: LogPlan, outletIds: readonly string[]): Promise<HoldersOf> {
  const { stays, firsts } = await staysAtOutlets(db, outletIds);
  const byOutlet = new Map<string, OutletStay[]>();
  for (const stay of stays) {
    const outlet = plan.byId.get(stay.outletId ?? "");
    if (!outlet) continue;
    const fromMs = stay.fromAt.getTime();
    const isFirst = firsts.get(stay.applianceId) === fromMs;
    const list = byOutlet.get(outlet.id) ?? [];
    list.push({
      holder: stay.applianceId,
      fromMs: isFirst ? Number.NEGATIVE_INFINITY : fromMs,
      toMs: stay.toAt?.getTime() ?? null,
      receptacle: receptacleOf(outlet, stay.receptacle),
    });
    byOutlet.set(outlet.id, list);
  }
  return (outletId, receptacle, alone) => holderTimeline(relevant(byOutlet.get(outletId) ?? [], receptacle, alone));
}

function relevant(stays: readonly OutletStay[], receptacle: string, alone: boolean): readonly OutletStay[] {
  if (receptacle === "")
    return new Set(stays.map(({ holder }) => holder)).size === 1 ? stays : stays.filter((stay) => stay.receptacle === "");
  return stays.filter((stay) => stay.receptacle === receptacle || (alone && stay.receptacle === ""));
}
