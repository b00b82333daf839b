import { touchApiKey } from "@/lib/store/api-key-queries";
import { type AnsweredBatch, countArrival, findAnswers, insertAnswers } from "@/lib/store/batch-queries";
import type { Db, Store } from "@/lib/store/client";
import { insertKeptPart, type KeptReading } from "@/lib/store/kept-log-queries";
import { proveLease } from "@/lib/store/lease-queries";
import { holdStream, type StreamPosition, updateStream } from "@/lib/store/stream-queries";
import type { ArrivalAnswer, ArrivalBatch } from "./arrival-batch";
import { arrivalReasons } from "./arrival-rows";
import type { RecentReadings } from "./recent-readings";

/** What became of one batch: its answer, or that its name was used for other bytes. */
export type Committed = { readonly answer: ArrivalAnswer } | { readonly conflict: true };

interface Settling {
  readonly batch: ArrivalBatch;
  readonly settle: (committed: Committed) => void;
}

function grouped(batches: readonly Settling[], by: (batch: ArrivalBatch) => string): Map<string, Settling[]> {
  const groups = new Map<string, Settling[]>();
  for (const one of batches) {
    const group = groups.get(by(one.batch));
    if (group) group.push(one);
    else groups.set(by(one.batch), [one]);
  }
  return groups;
}

const answerKey = (source: string, batchId: string) => `${source}\u0000${batchId}`;

/**
 * Keeps batches in one transaction: many small requests cost one commit together. A batch that was answered before gets the same
 * answer and changes nothing. Nothing is answered before the transaction has ended; when it fails nothing was kept.
 */
export async function commitArrivals(db: Store, recent: RecentReadings, batches: readonly ArrivalBatch[]): Promise<Committed[]> {
  const outcome = new Array<Committed>(batches.length);
  const settled = batches.map((batch, at): Settling => ({ batch, settle: (committed) => outcome.splice(at, 1, committed) }));
  const bySite = [...grouped(settled, ({ source }) => source.siteId)].sort(([a], [b]) => (a < b ? -1 : 1));
  try {
    await db.$transaction(async (tx) => {
      const leases = new Map(batches.flatMap(({ lease }) => (lease ? [[lease.name, lease] as const] : [])));
      for (const lease of leases.values()) await proveLease(tx, lease);
      const streams = new Map<string, StreamPosition>();
      for (const [siteId, [first]] of bySite)
        if (first) streams.set(siteId, await holdStream(tx, first.batch.source.organisationId, siteId));
      // Asked once the streams are held: another process may have answered the same batch until then.
      const answered = await answeredBefore(tx, batches);
      for (const [siteId, site] of bySite) await commitSite(tx, { recent, answered }, streams.get(siteId)!, site);
    });
  } catch (error) {
    recent.forget();
    throw error;
  }
  recent.tidy();
  return outcome;
}

async function answeredBefore(tx: Db, batches: readonly ArrivalBatch[]): Promise<Map<string, AnsweredBatch>> {
  const named = batches.flatMap(({ source, batchId }) => (batchId === null ? [] : [{ source: source.name, batchId }]));
  return new Map((await findAnswers(tx, named)).map((answer) => [answerKey(answer.source, answer.batchId), answer]));
}

interface CommitWork {
  readonly recent: RecentReadings;
  readonly answered: Map<string, AnsweredBatch>;
}

async function commitSite(tx: Db, work: CommitWork, held: StreamPosition, batches: readonly Settling[]): Promise<void> {
  let stream = held;
  for (const ofSource of grouped(batches, ({ source }) => source.name).values()) stream = await commitSource(tx, work, stream, ofSource);
}

/** Keeps what is new of one source's batches as one part; returns the stream as it is then. */
async function commitSource(
  tx: Db,
  { recent, answered }: CommitWork,
  stream: StreamPosition,
  batches: readonly Settling[],
): Promise<StreamPosition> {
  const known = await recent.of(tx, stream);
  const kept: KeptReading[] = [];
  const fresh: { batch: ArrivalBatch; answer: ArrivalAnswer }[] = [];
  for (const { batch, settle } of batches) {
    const before = batch.batchId === null ? undefined : answered.get(answerKey(batch.source.name, batch.batchId));
    if (before) {
      settle(before.bodyHash === batch.bodyHash ? { answer: before.answer as ArrivalAnswer } : { conflict: true });
      continue;
    }
    const rawFromMs = stream.rawFrom?.getTime() ?? Number.NEGATIVE_INFINITY;
    const inTime = batch.rows.readings.filter(({ atMs }) => atMs >= rawFromMs);
    await known.open(tx, inTime);
    const keptBefore = kept.length;
    for (const row of inTime) if (known.note(row)) kept.push(row);
    const answer = answerOf(batch, { accepted: kept.length - keptBefore, tooOld: batch.rows.readings.length - inTime.length });
    fresh.push({ batch, answer });
    if (batch.batchId !== null) {
      const { name: source } = batch.source;
      answered.set(answerKey(source, batch.batchId), { source, batchId: batch.batchId, bodyHash: batch.bodyHash, answer });
    }
    settle({ answer });
  }
  await keepAnswers(tx, fresh);
  if (kept.length === 0) return stream;
  const arrival = stream.lastPart + 1;
  const { organisationId, siteId, name } = batches[0]!.batch.source;
  await insertKeptPart(tx, { organisationId, siteId, importRunId: name, number: arrival, arrival }, kept);
  known.kept(arrival);
  const newest = kept.reduce((latest, { atMs }) => Math.max(latest, atMs), stream.newestAt?.getTime() ?? Number.NEGATIVE_INFINITY);
  const change = { lastPart: arrival, newestAt: new Date(newest) };
  await updateStream(tx, siteId, change);
  return { ...stream, ...change };
}

function answerOf({ batchId, rows }: ArrivalBatch, { accepted, tooOld }: { accepted: number; tooOld: number }): ArrivalAnswer {
  const old = tooOld === 0 ? [] : [{ line: 0, reason: `${tooOld} rows: ${arrivalReasons.too_old}` }];
  return {
    batch: batchId,
    rows: rows.rows,
    accepted,
    repeated: rows.readings.length - tooOld - accepted,
    setAside: rows.setAsideCount + tooOld,
    firstSetAside: [...old, ...rows.setAside],
    tagsSetAside: rows.tagCount,
    firstTagsSetAside: rows.tags,
  };
}

/** Notes the answers of named batches, what the source sent today, and that its key was used. */
async function keepAnswers(tx: Db, fresh: readonly { readonly batch: ArrivalBatch; readonly answer: ArrivalAnswer }[]): Promise<void> {
  const last = fresh.at(-1);
  if (!last) return;
  const { source, at } = last.batch;
  const named = fresh.flatMap(({ batch, answer }) =>
    batch.batchId === null
      ? []
      : [{ source: source.name, batchId: batch.batchId, siteId: source.siteId, bodyHash: batch.bodyHash, answer, at: batch.at }],
  );
  await insertAnswers(tx, named);
  const sum = (name: "accepted" | "repeated" | "setAside") => fresh.reduce((total, { answer }) => total + answer[name], 0);
  const problem = fresh.flatMap(({ answer }) => answer.firstSetAside).at(-1)?.reason ?? null;
  const { organisationId, siteId, keyId } = source;
  await countArrival(tx, {
    organisationId,
    siteId,
    source: source.name,
    at,
    batches: fresh.length,
    accepted: sum("accepted"),
    repeated: sum("repeated"),
    setAside: sum("setAside"),
    problem,
    problemAt: problem === null ? null : at,
  });
  if (keyId !== null) await touchApiKey(tx, keyId, at);
}
