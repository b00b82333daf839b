import { tagKey } from "@/lib/identity/tag-code";
import type { KeptReading } from "@/lib/store/kept-log-queries";
import type { SeenDraw } from "@/lib/store/reading-queries";
import { type ApplianceLimit, applianceLimit, referred } from "@/lib/watch/appliance-limit";
import { screeningPolicy } from "@/lib/watch/policy";
import { SustainedDraw, type SustainedDrawState } from "@/lib/watch/sustained-draw";
import { type LogPlan, type PlannedAppliance, plannedOutlet, receptacleOf } from "./log-plan";

interface Watched {
  readonly appliance: PlannedAppliance;
  readonly draw: SustainedDraw;
  limit: ApplianceLimit;
}

interface Spot {
  watched: Watched | null;
  lastMs: number;
}

/** Where following the draws stands: by folded tag, and which tag is plugged in where since when. */
export interface SeenDrawsState {
  readonly draws: readonly (readonly [tagKey: string, draw: SustainedDrawState])[];
  readonly spots: readonly (readonly [spot: string, tagKey: string | null, lastMs: number | null])[];
}

/** Follows each appliance through a replay and keeps its largest steady draw, referred to rated voltage as the screening does. */
export class SeenDraws {
  private readonly byTag = new Map<string, Watched>();
  private readonly spots = new Map<string, Spot>();
  private readonly noted = new Map<string, { readonly watts: number | null; readonly at: Date | null }>();

  constructor(
    private readonly plan: LogPlan,
    appliances: readonly PlannedAppliance[],
  ) {
    for (const appliance of appliances) {
      const outlet = appliance.screened.outlet === null ? undefined : plan.find(appliance.screened.outlet);
      const volts = outlet ? plannedOutlet(outlet).volts : null;
      const watched = { appliance, draw: new SustainedDraw(screeningPolicy), limit: applianceLimit(appliance.screened, volts) };
      this.byTag.set(appliance.row.tagKey, watched);
      if (outlet) this.spot(outlet.id, receptacleOf(outlet, appliance.screened.receptacle)).watched = watched;
    }
  }

  private spot(outletId: string, receptacle: string): Spot {
    const key = `${outletId} ${receptacle}`;
    let spot = this.spots.get(key);
    if (!spot) {
      spot = { watched: null, lastMs: Number.NEGATIVE_INFINITY };
      this.spots.set(key, spot);
    }
    return spot;
  }

  take(row: KeptReading): void {
    const outlet = this.plan.byId.get(row.outletId);
    if (!outlet) return;
    const spot = this.spot(row.outletId, receptacleOf(outlet, row.receptacle));
    if (row.atMs < spot.lastMs) return;
    spot.lastMs = row.atMs;
    if (row.tag !== null) this.plug(spot, this.byTag.get(tagKey(row.tag)) ?? null, plannedOutlet(outlet).volts);
    const { watched } = spot;
    if (!watched) return;
    if (row.event === "off" || row.event === "trip" || row.event === "unplugged") watched.draw.end();
    else if (row.watts !== null) watched.draw.observe(row.atMs, referred(watched.limit, row.watts, row.volts, "W"));
    if (row.event === "unplugged") spot.watched = null;
  }

  private plug(spot: Spot, watched: Watched | null, volts: number | null): void {
    if (spot.watched === watched) return;
    spot.watched?.draw.end();
    spot.watched = watched;
    if (!watched) return;
    watched.draw.end();
    watched.limit = applianceLimit(watched.appliance.screened, volts);
  }

  save(): SeenDrawsState {
    const draws = [...this.byTag].filter(([, { draw }]) => Number.isFinite(draw.largest) || draw.isHeld);
    const finite = (ms: number) => (Number.isFinite(ms) ? ms : null);
    return {
      draws: draws.map(([tag, { draw }]) => [tag, draw.save()]),
      spots: [...this.spots].map(([spot, { watched, lastMs }]) => [spot, watched?.appliance.row.tagKey ?? null, finite(lastMs)]),
    };
  }

  /** Goes on from a kept state; appliances that are gone are left out. */
  restore({ draws, spots }: SeenDrawsState): void {
    for (const [tag, draw] of draws) this.byTag.get(tag)?.draw.restore(draw);
    for (const [key, tag, lastMs] of spots) {
      const spot: Spot = { watched: null, lastMs: lastMs ?? Number.NEGATIVE_INFINITY };
      const outlet = this.plan.byId.get(key.slice(0, key.indexOf(" ")));
      const watched = tag === null ? null : (this.byTag.get(tag) ?? null);
      spot.watched = watched;
      if (watched && outlet) watched.limit = applianceLimit(watched.appliance.screened, plannedOutlet(outlet).volts);
      this.spots.set(key, spot);
    }
  }

  /** The largest steady draws that differ from what the registry has; `isRaised` leaves out those that are not larger. */
  changes(isRaised: boolean): SeenDraw[] {
    return [...this.byTag.values()].flatMap(({ appliance: { row }, draw }) => {
      const watts = Math.round(draw.largest * 10) / 10;
      if (!Number.isFinite(watts)) return [];
      const at = new Date(draw.largestAtMs);
      const known = this.noted.get(row.id) ?? { watts: row.seenWatts, at: row.seenAt };
      if (known.watts === watts && known.at?.getTime() === at.getTime()) return [];
      return isRaised && known.watts !== null && watts <= known.watts ? [] : [{ applianceId: row.id, watts, at }];
    });
  }

  /** Notes what was stored. */
  note(draws: readonly SeenDraw[]): void {
    for (const { applianceId, watts, at } of draws) this.noted.set(applianceId, { watts, at });
  }
}
