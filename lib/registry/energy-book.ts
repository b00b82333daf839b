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
import { findKeptParts, type KeptReading, openKeptPart } from "@/lib/store/kept-log-queries";
import { appliancesByTag } from "@/lib/store/placement-queries";
import { bookReceptacle, type EnergySample, milliwattsOf } from "@/lib/watch/energy-booking";
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
  const clocks = new Map<string | null, (atMs: number) => number>();
  const hours = new Map<string, SiteHour>();
  for (const { outletId, atMs } of readings) {
    const outlet = plan.byId.get(outletId);
    if (!outlet) continue;
    const zone = outlet.site.timeZone;
    const hourOf = clocks.get(zone) ?? makeHourOf(zone);
    clocks.set(zone, hourOf);
    for (const start of hoursTouched(hourOf, atMs, holdMs)) {
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

/** Hours booked in one transaction. */
const hoursAtOnce = 24;
const partsInMemory = 12;

/**
 * Books the energy of every hour that is due, from the readings kept and the placements known by now. What was booked of an hour is
 * replaced, so that booking again changes nothing; an hour that is marked while it is booked stays due. Use limits of the days are
 * judged with it. Permission is the caller's.
 */
export async function bookEnergy(db: Store, actor: Actor, now: Date): Promise<EnergyAccount> {
  const { organisationId } = actor;
  const booked: SiteHour[] = [];
  let rows = 0;
  let failed = 0;
  const parts = new PartCache(db);
  for (let due = await findEnergyDue(db, organisationId, hoursAtOnce); due.length > 0; ) {
    const made = await makeRows(db, organisationId, due, parts);
    await db.$transaction((tx) => replaceEnergyHours(tx, organisationId, made.hours, made.rows));
    // Limits are judged before the marks go, so that a process that is killed between the two judges them the next time.
    await judgeLimits(db, actor, made.hours, now);
    await clearEnergyDue(db, due);
    booked.push(...made.hours);
    rows += made.rows.length;
    const next = await findEnergyDue(db, organisationId, hoursAtOnce);
    // Only marks that are set again and again while we book could keep this going: leave them to the next booking.
    failed = next[0] && next[0].siteId === due[0]?.siteId && next[0].at.getTime() === due[0].at.getTime() ? failed + 1 : 0;
    if (failed >= 3) break;
    due = next;
  }
  return { hours: booked.length, rows, booked };
}

/** Parts that were opened last; hours next to each other share them. */
class PartCache {
  private readonly parts = new Map<string, KeptReading[]>();
  constructor(private readonly db: Db) {}

  async open(id: string): Promise<KeptReading[]> {
    const known = this.parts.get(id);
    if (known) return known;
    const rows = await openKeptPart(this.db, id);
    const oldest = this.parts.keys().next();
    if (this.parts.size >= partsInMemory && !oldest.done) this.parts.delete(oldest.value);
    this.parts.set(id, rows);
    return rows;
  }
}

interface Spot {
  readonly outletId: string;
  readonly receptacle: string;
  readonly samples: EnergySample[];
}

async function makeRows(db: Db, organisationId: string, due: readonly EnergyDue[], parts: PartCache) {
  const plan = await readLogPlan(db, { organisationId, siteIds: "all" });
  const [rows, hours]: [EnergyHourRow[], SiteHour[]] = [[], []];
  const tags = new TagHolders(db, organisationId);
  for (const start of [...new Set(due.map(({ at }) => at.getTime()))]) {
    const sites = new Set(due.filter(({ at }) => at.getTime() === start).map(({ siteId }) => siteId));
    const spots = await spotsOf({ db, organisationId, plan, parts, tags }, start, sites);
    const holders = await readHolders(db, plan, [...new Set([...spots.values()].map(({ outletId }) => outletId))]);
    for (const siteId of sites) {
      const own = [...spots.values()].filter(({ outletId }) => plan.byId.get(outletId)?.siteId === siteId);
      // Readings that were put away since are still in what was booked of them.
      if (own.length === 0 && (await isHourBooked(db, { siteId, atMs: start }))) continue;
      hours.push({ siteId, atMs: start });
      rows.push(...own.flatMap((spot) => spotRows(spot, own, { start, plan, holders })));
    }
  }
  return { rows, hours };
}

interface Reader {
  readonly db: Db;
  readonly organisationId: string;
  readonly plan: LogPlan;
  readonly parts: PartCache;
  readonly tags: TagHolders;
}

/** The power readings of an hour and of the hold before it, by receptacle, of these sites. */
async function spotsOf(reader: Reader, start: number, sites: ReadonlySet<string>): Promise<Map<string, Spot>> {
  const { db, organisationId, plan, parts, tags } = reader;
  const [from, to] = [start - holdMs, start + hourMs];
  const spots = new Map<string, Spot>();
  for (const { id } of await findKeptParts(db, { organisationId, from: new Date(from), to: new Date(to) })) {
    const readings = await parts.open(id);
    await tags.prepare(readings);
    for (const row of readings) {
      if (row.atMs < from || row.atMs >= to) continue;
      const outlet = plan.byId.get(row.outletId);
      const milliwatts = outlet && sites.has(outlet.siteId) ? milliwattsOf(row) : null;
      if (!outlet || milliwatts === null) continue;
      const receptacle = receptacleOf(outlet, row.receptacle);
      const key = `${outlet.id} ${receptacle}`;
      const spot = spots.get(key) ?? { outletId: outlet.id, receptacle, samples: [] };
      spot.samples.push({ atMs: row.atMs, milliwatts, holder: tags.of(row.tag) });
      spots.set(key, spot);
    }
  }
  return spots;
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

interface BookingPlace {
  readonly start: number;
  readonly plan: LogPlan;
  readonly holders: Awaited<ReturnType<typeof readHolders>>;
}

function spotRows(spot: Spot, all: readonly Spot[], { start, plan, holders }: BookingPlace): EnergyHourRow[] {
  const outlet = plan.byId.get(spot.outletId);
  if (!outlet) return [];
  const alone = all.filter(({ outletId }) => outletId === spot.outletId).length === 1;
  const timeline = holders(spot.outletId, spot.receptacle, alone);
  const stretch = { samples: spot.samples, timeline, fromMs: start, toMs: start + hourMs, holdMs, hourOf: () => start };
  const { siteId, unitId, circuitId } = outlet;
  return bookReceptacle(stretch).map(({ hourMs: atMs, holder, microjoules, measuredMs, gapMs }) => ({
    siteId,
    unitId,
    circuitId,
    outletId: spot.outletId,
    receptacle: spot.receptacle,
    applianceId: holder,
    atMs,
    microjoules: BigInt(microjoules),
    measuredMs,
    gapMs,
  }));
}
