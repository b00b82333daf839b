import type { Actor } from "@/lib/access/actor";
import { tagKey } from "@/lib/identity/tag-code";
import type { Db, Store } from "@/lib/store/client";
import {
  clearEnergyDue,
  type EnergyDue,
  findEnergyDue,
  isHourBooked,
  markEnergyDue,
  replaceEnergyHours,
  type SiteHour,
} from "@/lib/store/energy-queries";
import { againIfMerged, findKeptParts, type KeptReading, openKeptPart } from "@/lib/store/kept-log-queries";
import { appliancesByTag } from "@/lib/store/placement-queries";
import { findStreams } from "@/lib/store/stream-queries";
import { bookReceptacle, type EnergySample, milliwattsOf } from "@/lib/watch/energy-booking";
import type { HolderChange } from "@/lib/watch/energy-holder";
import { hourMs, hoursTouched, makeHourOf } from "@/lib/watch/energy-hour";
import type { EnergyHourRow } from "@/lib/watch/energy-sum";
import { screeningPolicy } from "@/lib/watch/policy";
import { readHolders } from "./energy-holders";
import { judgeLimits } from "./energy-limit";
import { type LogPlan, readLogPlan, receptacleOf } from "./log-plan";

const holdMs = screeningPolicy.holdSeconds * 1000;

/**
 * Marks the hours that new readings can change as due for booking. Call it inside the transaction that keeps the readings, so that
 * none is ever kept without its hour being due.
 */
export async function markReadingsDue(tx: Db, organisationId: string, plan: LogPlan, readings: readonly KeptReading[]): Promise<void> {
  const clocks = new Clocks();
  const hours = new Map<string, SiteHour>();
  for (const { outletId, atMs } of readings) {
    const outlet = plan.byId.get(outletId);
    if (!outlet) continue;
    for (const start of hoursTouched(clocks.of(outlet.site.timeZone), atMs, holdMs)) {
      const key = `${outlet.siteId} ${start}`;
      if (!hours.has(key)) hours.set(key, { siteId: outlet.siteId, atMs: start });
    }
  }
  await markEnergyDue(tx, organisationId, [...hours.values()]);
}

/** What a booking did. */
export interface EnergyAccount {
  readonly hours: number;
  readonly rows: number;
  /** Days of sites whose sums changed, for the use limits. */
  readonly booked: readonly SiteHour[];
}

/** Hours booked in one transaction: as many as keep the readings at hand below `mostReadings`. */
const hoursAtOnce = [744, 168, 24, 6, 1] as const;
const mostReadings = 1_500_000;

/**
 * Books the energy of every hour that is due, from the readings kept and the placements known by now. What was booked of an hour is
 * replaced, so that booking again changes nothing; an hour that is marked while it is booked stays due. Use limits of the days are
 * judged with it. Permission is the caller's.
 */
export async function bookEnergy(db: Store, actor: Actor, now: Date): Promise<EnergyAccount> {
  const { organisationId } = actor;
  const booked: SiteHour[] = [];
  let rows = 0;
  let again = 0;
  for (let due = await nextDue(db, organisationId); due.length > 0; ) {
    const made = await againIfMerged(() => makeRows(db, organisationId, due));
    await db.$transaction((tx) => replaceEnergyHours(tx, organisationId, made.hours, made.rows));
    // Limits are judged before the marks go, so that a process that is killed between the two judges them the next time.
    await judgeLimits(db, actor, made.hours, now);
    await clearEnergyDue(db, due);
    booked.push(...made.hours);
    rows += made.rows.length;
    const next = await nextDue(db, organisationId);
    // Only marks that are set again and again while we book could keep this going: leave them to the next booking.
    again = next[0] && next[0].siteId === due[0]?.siteId && next[0].at.getTime() === due[0].at.getTime() ? again + 1 : 0;
    if (again >= 3) break;
    due = next;
  }
  return { hours: booked.length, rows, booked };
}

/** The next hours to be booked together: fewer where there are many readings. */
async function nextDue(db: Db, organisationId: string): Promise<EnergyDue[]> {
  const due = await findEnergyDue(db, organisationId, hoursAtOnce[0]);
  for (const count of hoursAtOnce) {
    const some = due.slice(0, count);
    if (count === 1 || (await readingsIn(db, organisationId, some)) <= mostReadings) return some;
  }
  return due;
}

function stretchOf(due: readonly EnergyDue[]): { readonly from: Date; readonly to: Date } {
  const times = due.map(({ at }) => at.getTime());
  return { from: new Date(Math.min(...times) - holdMs), to: new Date(Math.max(...times) + hourMs) };
}

/** About how many readings fall into a stretch, a part's spread evenly over its time. */
async function readingsIn(db: Db, organisationId: string, due: readonly EnergyDue[]): Promise<number> {
  if (due.length === 0) return 0;
  const { from, to } = stretchOf(due);
  const parts = await findKeptParts(db, { organisationId, from, to });
  return parts.reduce((sum, { fromAt, toAt, rows }) => {
    const length = Math.max(1, toAt.getTime() - fromAt.getTime());
    const inside = Math.min(toAt.getTime(), to.getTime()) - Math.max(fromAt.getTime(), from.getTime());
    return sum + rows * Math.min(1, Math.max(0, inside) / length);
  }, 0);
}

/** The power readings of one receptacle that can count in one hour: its own and those of the hold before it. */
interface Spot {
  readonly start: number;
  readonly siteId: string;
  readonly outletId: string;
  readonly receptacle: string;
  readonly samples: EnergySample[];
}

async function makeRows(db: Db, organisationId: string, due: readonly EnergyDue[]) {
  const plan = await readLogPlan(db, { organisationId, siteIds: "all" });
  const spots = await spotsOf(db, { organisationId, plan, due });
  const holders = await readHolders(db, plan, [...new Set(spots.map(({ outletId }) => outletId))]);
  const alone = new Map<string, number>();
  const outletKey = ({ start, outletId }: Spot) => `${start} ${outletId}`;
  for (const spot of spots) alone.set(outletKey(spot), (alone.get(outletKey(spot)) ?? 0) + 1);
  const rows = spots.flatMap((spot) => spotRows(spot, plan, holders(spot.outletId, spot.receptacle, alone.get(outletKey(spot)) === 1)));
  const rawFrom = new Map((await findStreams(db, organisationId)).map((stream) => [stream.siteId, stream.rawFrom?.getTime() ?? 0]));
  const hours: SiteHour[] = [];
  for (const { siteId, at } of due) {
    const hour = { siteId, atMs: at.getTime() };
    // Readings that were put away since are still in what was booked of them, so that hour stays as it is.
    const isWhole = hour.atMs - holdMs >= (rawFrom.get(siteId) ?? 0);
    if (isWhole || !(await isHourBooked(db, hour))) hours.push(hour);
  }
  const replaced = new Set(hours.map(({ siteId, atMs }) => `${siteId} ${atMs}`));
  return { rows: rows.filter((row) => replaced.has(`${row.siteId} ${row.atMs}`)), hours };
}

/** The power readings of the due hours, by hour and receptacle. Each part of the log is opened once. */
async function spotsOf(
  db: Db,
  { organisationId, plan, due }: { readonly organisationId: string; readonly plan: LogPlan; readonly due: readonly EnergyDue[] },
): Promise<Spot[]> {
  const wanted = new Set(due.map(({ siteId, at }) => `${siteId} ${at.getTime()}`));
  const tags = new TagHolders(db, organisationId);
  const clocks = new Clocks();
  const spots = new Map<string, Spot>();
  for (const { id } of await findKeptParts(db, { organisationId, ...stretchOf(due) })) {
    const readings = await openKeptPart(db, id);
    await tags.prepare(readings);
    for (const row of readings) {
      const outlet = plan.byId.get(row.outletId);
      if (!outlet) continue;
      for (const start of hoursTouched(clocks.of(outlet.site.timeZone), row.atMs, holdMs)) {
        const milliwatts = wanted.has(`${outlet.siteId} ${start}`) ? milliwattsOf(row) : null;
        if (milliwatts === null) continue;
        const receptacle = receptacleOf(outlet, row.receptacle);
        const key = `${start} ${outlet.id} ${receptacle}`;
        const spot = spots.get(key) ?? { start, siteId: outlet.siteId, outletId: outlet.id, receptacle, samples: [] };
        spot.samples.push({ atMs: row.atMs, milliwatts, holder: tags.of(row.tag) });
        spots.set(key, spot);
      }
    }
  }
  return [...spots.values()];
}

/** The hour clock of each zone. */
class Clocks {
  private readonly byZone = new Map<string | null, (atMs: number) => number>();

  of(zone: string | null): (atMs: number) => number {
    const known = this.byZone.get(zone);
    if (known) return known;
    const made = makeHourOf(zone);
    this.byZone.set(zone, made);
    return made;
  }
}

/** Which appliance a row's own tag names. */
class TagHolders {
  private readonly byText = new Map<string, string | null>();
  constructor(
    private readonly db: Db,
    private readonly organisationId: string,
  ) {}

  async prepare(rows: readonly KeptReading[]): Promise<void> {
    const fresh = [...new Set(rows.flatMap(({ tag }) => (tag === null || this.byText.has(tag) ? [] : [tag])))];
    if (fresh.length === 0) return;
    const found = await appliancesByTag(this.db, this.organisationId, [...new Set(fresh.map(tagKey))]);
    const byKey = new Map(found.map(({ id, tagKey: key }) => [key, id]));
    for (const tag of fresh) this.byText.set(tag, byKey.get(tagKey(tag)) ?? null);
  }

  of(tag: string | null): string | null {
    return tag === null ? null : (this.byText.get(tag) ?? null);
  }
}

function spotRows(spot: Spot, plan: LogPlan, timeline: readonly HolderChange[]): EnergyHourRow[] {
  const outlet = plan.byId.get(spot.outletId);
  if (!outlet) return [];
  const { start } = spot;
  const stretch = { samples: spot.samples, timeline, fromMs: start, toMs: start + hourMs, holdMs, hourOf: () => start };
  const { siteId, unitId, circuitId } = outlet;
  const { outletId, receptacle } = spot;
  return bookReceptacle(stretch).map(({ hourMs: atMs, holder, microjoules, measuredMs, gapMs }) => {
    const place = { siteId, unitId, circuitId, outletId, receptacle, applianceId: holder };
    return { ...place, atMs, microjoules: BigInt(microjoules), measuredMs, gapMs };
  });
}
