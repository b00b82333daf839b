import type { Db } from "@/lib/store/client";
import { findSiteParts, type KeptReading, openKeptPart, partsSince, readingKey } from "@/lib/store/kept-log-queries";

const minuteMs = 60_000;
const keysInMemory = 400_000;

const minuteOf = (atMs: number) => Math.floor(atMs / minuteMs);

/** Minutes this close are looked up together. */
const gapMinutes = 60;

/** Sorted minutes as first and last of runs without a long gap. */
function runsOf(minutes: readonly number[]): [number, number][] {
  const runs: [number, number][] = [];
  for (const minute of minutes) {
    const run = runs.at(-1);
    if (run && minute - run[1] <= gapMinutes) run[1] = minute;
    else runs.push([minute, minute]);
  }
  return runs;
}

/** Whether one of the sorted minutes lies within a part. */
function touches(minutes: readonly number[], { fromAt, toAt }: { readonly fromAt: Date; readonly toAt: Date }): boolean {
  let [low, high] = [0, minutes.length];
  const from = minuteOf(fromAt.getTime());
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((minutes[middle] ?? 0) < from) low = middle + 1;
    else high = middle;
  }
  return (minutes[low] ?? Number.POSITIVE_INFINITY) <= minuteOf(toAt.getTime());
}

/**
 * Tells which readings of a site are kept already, minute by minute, for readings that arrive live: what this process keeps is noted
 * as it goes, what other processes keep is looked up by the order of arrival. Use it only while the site's stream is held.
 */
class SiteReadings {
  private readonly minutes = new Map<number, Set<string>>();

  constructor(
    private readonly organisationId: string,
    private readonly siteId: string,
    private seen: number,
  ) {}

  /** Takes in what others kept since, up to the stream's last part. */
  async catchUp(db: Db, lastPart: number): Promise<void> {
    if (lastPart <= this.seen) return;
    const open = [...this.minutes.keys()].sort((a, b) => a - b);
    for (const part of await partsSince(db, this.siteId, this.seen)) if (touches(open, part)) await this.noteAll(db, part.id);
    this.seen = lastPart;
  }

  private async noteAll(db: Db, partId: string): Promise<void> {
    for (const row of await openKeptPart(db, partId)) this.minutes.get(minuteOf(row.atMs))?.add(readingKey(row));
  }

  /** Fetches what is kept of the minutes of these readings. */
  async open(db: Db, readings: readonly KeptReading[]): Promise<void> {
    const wanted = new Set(readings.map(({ atMs }) => minuteOf(atMs)));
    const missing = [...wanted].filter((minute) => !this.minutes.has(minute)).sort((a, b) => a - b);
    for (const minute of missing) this.minutes.set(minute, new Set());
    const { organisationId, siteId } = this;
    for (const [first, last] of runsOf(missing)) {
      const span = { from: new Date(first * minuteMs), to: new Date((last + 1) * minuteMs - 1) };
      for (const part of await findSiteParts(db, { organisationId, siteId, ...span }))
        if (touches(missing, part)) await this.noteAll(db, part.id);
    }
  }

  /** Notes a reading of an open minute; false when it is kept or noted already. */
  note(row: KeptReading): boolean {
    const known = this.minutes.get(minuteOf(row.atMs));
    if (!known) throw new Error("The minute of a reading was not opened before it was noted.");
    const key = readingKey(row);
    if (known.has(key)) return false;
    known.add(key);
    return true;
  }

  /** Notes that this process has kept a part. */
  kept(arrival: number): void {
    this.seen = arrival;
  }

  /** How many readings are remembered. */
  get size(): number {
    let total = 0;
    for (const { size } of this.minutes.values()) total += size;
    return total;
  }

  /** Forgets the oldest minutes until few enough readings are remembered. */
  shrink(): void {
    let total = this.size;
    for (const minute of [...this.minutes.keys()].sort((a, b) => a - b)) {
      if (total <= keysInMemory / 2) break;
      total -= this.minutes.get(minute)?.size ?? 0;
      this.minutes.delete(minute);
    }
  }
}

/** The readings remembered of each site that sends to this process. A transaction that failed leaves them wrong: forget them then. */
export class RecentReadings {
  private readonly sites = new Map<string, SiteReadings>();

  /** The site's readings, in step with the stream's last part. */
  async of(tx: Db, stream: { readonly organisationId: string; readonly siteId: string; readonly lastPart: number }): Promise<SiteReadings> {
    const { organisationId, siteId, lastPart } = stream;
    let site = this.sites.get(siteId);
    if (!site) {
      site = new SiteReadings(organisationId, siteId, lastPart);
      this.sites.set(siteId, site);
    }
    await site.catchUp(tx, lastPart);
    return site;
  }

  /** Keeps memory within bounds; call it between transactions. */
  tidy(): void {
    let total = 0;
    for (const site of this.sites.values()) total += site.size;
    if (total <= keysInMemory) return;
    for (const site of this.sites.values()) site.shrink();
  }

  forget(): void {
    this.sites.clear();
  }
}
