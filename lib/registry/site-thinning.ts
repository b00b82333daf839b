import type { Actor } from "@/lib/access/actor";
import { tagKey } from "@/lib/identity/tag-code";
import type { Db } from "@/lib/store/client";
import type { KeptReading } from "@/lib/store/kept-log-queries";
import { appliancesByTag } from "@/lib/store/placement-queries";
import { addEvents, addMinutes, type DrawMinute, type OutletEventRow } from "@/lib/store/reading-queries";
import { raiseDrawingOutOfUse } from "./drawing-out-of-use";
import { markReadingsDue } from "./energy-book";
import { type LogPlan, receptacleOf } from "./log-plan";
import { MinuteFold } from "./minute-fold";
import { type Sighting, takeSightings } from "./observation";
import { makeSightingSeries, type RunningSeries, type SightingSeries } from "./observation-series";
import { PluggedIn } from "./plugged-in";

/** Where thinning stands, as plain values: series as [tag, outlet, receptacle, first instant, last instant]. */
export interface ThinningState {
  readonly series: readonly (readonly [string, string, string | null, number, number])[];
  readonly emptied: readonly string[];
}

export const noThinning: ThinningState = { series: [], emptied: [] };

/** What some readings leave besides themselves. */
export interface Thinned {
  readonly readings: readonly KeptReading[];
  readonly minutes: readonly DrawMinute[];
  readonly events: readonly OutletEventRow[];
  readonly sightings: readonly Sighting[];
}

export interface ThinningSite {
  readonly organisationId: string;
  readonly siteId: string;
  readonly plan: LogPlan;
}

function runningOf({ series }: ThinningState): RunningSeries {
  return series.map(([tag, outlet, receptacle, firstMs, lastMs]) => {
    const sighting = (ms: number) => ({ tag, outlet, receptacle, at: new Date(ms) });
    return [sighting(firstMs), sighting(lastMs)];
  });
}

/** Thins a site's readings for charts, and finds what they say of events and of where appliances are. Readings come part by part. */
export class SiteThinning {
  private readonly plugged: PluggedIn;
  private readonly series: SightingSeries;
  /** Folded tags that live sources may move: those of the site's own appliances. */
  private readonly own = new Map<string, boolean>();

  constructor(
    private readonly db: Db,
    private readonly site: ThinningSite,
    state: ThinningState,
  ) {
    this.plugged = new PluggedIn(db, site.organisationId);
    this.plugged.restoreEmptied(state.emptied);
    this.series = makeSightingSeries(runningOf(state));
  }

  private async prepare(rows: readonly KeptReading[]): Promise<void> {
    const tags = [...new Set(rows.flatMap(({ tag }) => tag ?? []))];
    await this.plugged.prepare(
      tags,
      rows.map(({ outletId }) => outletId),
    );
    const fresh = [...new Set(tags.map(tagKey))].filter((key) => key !== "" && !this.own.has(key));
    for (const key of fresh) this.own.set(key, false);
    for (const { tagKey: key, siteId } of await appliancesByTag(this.db, this.site.organisationId, fresh))
      this.own.set(key, siteId === this.site.siteId);
  }

  /** Takes the readings of one part. From a live source only the site's own appliances are moved; a person's file may bring others. */
  async take(rows: readonly KeptReading[], isLive: boolean): Promise<Thinned> {
    await this.prepare(rows);
    const { organisationId, plan } = this.site;
    const minutes = new MinuteFold();
    const events: OutletEventRow[] = [];
    for (const row of rows) {
      const outlet = plan.byId.get(row.outletId);
      if (!outlet) continue;
      const receptacle = receptacleOf(outlet, row.receptacle);
      const applianceId = this.plugged.take(outlet.id, receptacle, row);
      const owner = { organisationId, outletId: outlet.id, receptacle, applianceId };
      const at = new Date(row.atMs);
      if (row.event !== null) events.push({ ...owner, at, event: row.event, cause: row.cause });
      if (row.watts !== null || row.amps !== null || row.volts !== null) minutes.take(owner, row.atMs, row);
      if (row.tag !== null && row.event !== "unplugged" && this.moves(row.tag, isLive))
        this.series.take({ tag: row.tag, outlet: outlet.name, receptacle: receptacle || null, at });
    }
    return { readings: rows, minutes: minutes.empty(), events, sightings: this.series.drain() };
  }

  private moves(tag: string, isLive: boolean): boolean {
    return this.plugged.ofTag(tag) !== null && (!isLive || this.own.get(tagKey(tag)) === true);
  }

  /** The last sightings of the series, at the end of a file. */
  end(): Thinned {
    return { readings: [], minutes: [], events: [], sightings: this.series.finish() };
  }

  save(): ThinningState {
    return {
      series: this.series
        .running()
        .map(([first, last]) => [first.tag, first.outlet, first.receptacle, first.at.getTime(), last.at.getTime()]),
      emptied: this.plugged.emptied(),
    };
  }
}

/** Stores what readings leave besides themselves, inside the transaction that notes how far the site's readings were taken. */
export async function storeThinned(
  tx: Db,
  actor: Actor,
  thinned: Thinned,
  { plan, now }: { readonly plan: LogPlan; readonly now: Date },
): Promise<void> {
  await markReadingsDue(tx, actor.organisationId, plan, thinned.readings);
  await addMinutes(tx, thinned.minutes);
  await raiseDrawingOutOfUse(tx, actor, thinned.minutes, now);
  await addEvents(tx, thinned.events);
  await takeSightings(tx, actor, { sightings: thinned.sightings, source: "log", now });
}
