import type { Db } from "@/lib/store/client";
import { insertKeptParts, type KeptReading, openKeptPart, partsSince, readingKey } from "@/lib/store/kept-log-queries";
import { holdStream, updateStream } from "@/lib/store/stream-queries";
import type { LogChunk } from "./log-chunk";
import type { LogPlan } from "./log-plan";

/** A load that keeps readings, with how far each site's stream was known when it began. */
export interface KeepingLoad {
  readonly organisationId: string;
  readonly runId: string;
  readonly plan: LogPlan;
  /** Number of the load's next part. */
  part: number;
  /** Last part of each site that this load knows of. */
  readonly seen: Map<string, number>;
}

function bySite(plan: LogPlan, readings: readonly KeptReading[]): [string, KeptReading[]][] {
  const sites = new Map<string, KeptReading[]>();
  for (const row of readings) {
    const siteId = plan.byId.get(row.outletId)?.siteId;
    if (siteId === undefined) continue;
    const rows = sites.get(siteId);
    if (rows) rows.push(row);
    else sites.set(siteId, [row]);
  }
  return [...sites].sort(([a], [b]) => (a < b ? -1 : 1));
}

/** Readings that were kept by others while the load looked the other way. */
async function keptMeanwhile(tx: Db, load: KeepingLoad, siteId: string): Promise<Set<string>> {
  const keys = new Set<string>();
  for (const part of await partsSince(tx, siteId, load.seen.get(siteId) ?? 0)) {
    if (part.importRunId === load.runId) continue;
    for (const row of await openKeptPart(tx, part.id)) keys.add(readingKey(row));
  }
  return keys;
}

/**
 * Keeps a chunk's readings site by site, inside the caller's transaction, and returns the counts as they came out. Call `noteKept`
 * once the transaction has ended.
 */
export async function keepChunk(tx: Db, load: KeepingLoad, chunk: LogChunk): Promise<{ counts: LogChunk["counts"]; noteKept: () => void }> {
  let { part } = load;
  let doubled = 0;
  const seen = new Map<string, number>();
  for (const [siteId, rows] of bySite(load.plan, chunk.kept)) {
    const { organisationId, runId: importRunId } = load;
    const stream = await holdStream(tx, organisationId, siteId);
    const others = stream.lastPart > (load.seen.get(siteId) ?? 0) ? await keptMeanwhile(tx, load, siteId) : null;
    const fresh = others === null ? rows : rows.filter((row) => !others.has(readingKey(row)));
    doubled += rows.length - fresh.length;
    seen.set(siteId, stream.lastPart);
    if (fresh.length === 0) continue;
    const arrival = stream.lastPart + 1;
    await insertKeptParts(tx, [{ organisationId, siteId, importRunId, number: part, arrival, readings: fresh }]);
    const newest = fresh.reduce((latest, { atMs }) => Math.max(latest, atMs), stream.newestAt?.getTime() ?? Number.NEGATIVE_INFINITY);
    await updateStream(tx, siteId, { lastPart: arrival, newestAt: new Date(newest) });
    seen.set(siteId, arrival);
    part += 1;
  }
  const { created, unchanged } = chunk.counts;
  const counts = { ...chunk.counts, created: created - doubled, unchanged: unchanged + doubled };
  const noteKept = () => {
    load.part = part;
    for (const [siteId, arrival] of seen) load.seen.set(siteId, arrival);
  };
  return { counts, noteKept };
}
