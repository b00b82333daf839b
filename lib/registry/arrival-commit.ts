import { touchApiKeys } from "@/lib/store/api-key-queries";
import { type AnsweredBatch, countArrivals, findAnswers, insertAnswers } from "@/lib/store/batch-queries";
import type { Db, Store } from "@/lib/store/client";
import { insertKeptParts, type KeptReading, type NewPart } from "@/lib/store/kept-log-queries";
import { proveLease } from "@/lib/store/lease-queries";
import { advanceStreams, holdStreams, type StreamPosition } from "@/lib/store/stream-queries";
import { grouped } from "@/lib/watch/grouped";
import type { ArrivalAnswer, ArrivalBatch } from "./arrival-batch";
import { arrivalReasons } from "./arrival-rows";
import type { RecentReadings } from "./recent-readings";

/** What became of one batch: its answer, or that its name was used for other bytes. */
export type Committed = { readonly answer: ArrivalAnswer } | { readonly conflict: true };

interface Settling {
  readonly batch: ArrivalBatch;
  readonly settle: (committed: Committed) => void;
}

const answerKey = (source: string, batchId: string) => `${source}\u0000${batchId}`;

/**
 * Keeps batches in one transaction: many small requests cost one commit and a handful of statements together. A batch that was
 * answered before gets the same answer and changes nothing. Nothing is answered before the transaction has ended; when it fails
 * nothing was kept.
 */
export async function commitArrivals(db: Store, recent: RecentReadings, batches: readonly ArrivalBatch[]): Promise<Committed[]> {
  const outcome = new Array<Committed>(batches.length);
  const settled = batches.map((batch, at): Settling => ({ batch, settle: (committed) => outcome.splice(at, 1, committed) }));
  try {
    await db.$transaction(async (tx) => {
      const leases = new Map(batches.flatMap(({ lease }) => (lease ? [[lease.name, lease] as const] : [])));
      for (const lease of leases.values()) await proveLease(tx, lease);
      await keepTogether(tx, recent, settled);
    });
  } catch (error) {
    recent.forget();
    throw error;
  }
  recent.tidy();
  return outcome;
}

/** What a transaction leaves to be written once all its batches were looked at. */
interface Gathered {
  readonly parts: NewPart[];
  readonly streams: Map<string, StreamPosition>;
  readonly sources: { readonly batch: ArrivalBatch; readonly answer: ArrivalAnswer }[][];
}

async function keepTogether(tx: Db, recent: RecentReadings, batches: readonly Settling[]): Promise<void> {
  const streams = await holdStreams(
    tx,
    batches.map(({ batch }) => batch.source),
  );
  // Asked once the streams are held: another process may have answered the same batch until then.
  const answered = await answeredBefore(tx, batches);
  const gathered: Gathered = { parts: [], streams, sources: [] };
  for (const ofSource of grouped(batches, ({ batch: { source } }) => source.name).values())
    await keepSource(tx, { recent, answered, gathered }, ofSource);
  await insertKeptParts(tx, gathered.parts);
  const moved = new Set(gathered.parts.map(({ siteId }) => siteId));
  await advanceStreams(
    tx,
    [...streams.values()].filter(({ siteId }) => moved.has(siteId)),
  );
  await keepAnswers(tx, gathered.sources);
}

async function answeredBefore(tx: Db, batches: readonly Settling[]): Promise<Map<string, AnsweredBatch>> {
  const named = batches.flatMap(({ batch: { source, batchId } }) => (batchId === null ? [] : [{ source: source.name, batchId }]));
  return new Map((await findAnswers(tx, named)).map((answer) => [answerKey(answer.source, answer.batchId), answer]));
}

interface CommitWork {
  readonly recent: RecentReadings;
  readonly answered: Map<string, AnsweredBatch>;
  readonly gathered: Gathered;
}

/** Gathers what is new of one source's batches as one part, and settles their answers. */
async function keepSource(tx: Db, { recent, answered, gathered }: CommitWork, batches: readonly Settling[]): Promise<void> {
  const { organisationId, siteId, name } = batches[0]!.batch.source;
  const stream = gathered.streams.get(siteId)!;
  const known = await recent.of(tx, stream);
  const rawFromMs = stream.rawFrom?.getTime() ?? Number.NEGATIVE_INFINITY;
  const kept: KeptReading[] = [];
  const fresh: { batch: ArrivalBatch; answer: ArrivalAnswer }[] = [];
  for (const { batch, settle } of batches) {
    const before = batch.batchId === null ? undefined : answered.get(answerKey(name, batch.batchId));
    if (before) {
      settle(before.bodyHash === batch.bodyHash ? { answer: before.answer as ArrivalAnswer } : { conflict: true });
      continue;
    }
    const inTime = batch.rows.readings.filter(({ atMs }) => atMs >= rawFromMs);
    await known.open(tx, inTime);
    const keptBefore = kept.length;
    for (const row of inTime) if (known.note(row)) kept.push(row);
    const answer = answerOf(batch, { accepted: kept.length - keptBefore, tooOld: batch.rows.readings.length - inTime.length });
    fresh.push({ batch, answer });
    if (batch.batchId !== null)
      answered.set(answerKey(name, batch.batchId), { source: name, batchId: batch.batchId, bodyHash: batch.bodyHash, answer });
    settle({ answer });
  }
  if (fresh.length > 0) gathered.sources.push(fresh);
  if (kept.length === 0) return;
  const arrival = stream.lastPart + 1;
  gathered.parts.push({ organisationId, siteId, importRunId: name, number: arrival, arrival, readings: kept });
  known.kept(arrival);
  const newest = kept.reduce((latest, { atMs }) => Math.max(latest, atMs), stream.newestAt?.getTime() ?? Number.NEGATIVE_INFINITY);
  gathered.streams.set(siteId, { ...stream, lastPart: arrival, newestAt: new Date(newest) });
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

/** Notes the answers of named batches, what each source sent today, and that its key was used. */
async function keepAnswers(tx: Db, sources: Gathered["sources"]): Promise<void> {
  const named = sources
    .flat()
    .flatMap(({ batch: { batchId, source, bodyHash, at }, answer }) =>
      batchId === null ? [] : [{ source: source.name, batchId, siteId: source.siteId, bodyHash, answer, at }],
    );
  await insertAnswers(tx, named);
  await countArrivals(tx, sources.map(countOf));
  const used = sources.flatMap(([first]) => first?.batch.source.keyId ?? []);
  const at = sources[0]?.[0]?.batch.at;
  if (at) await touchApiKeys(tx, [...new Set(used)], at);
}

function countOf(batches: Gathered["sources"][number]) {
  const { source, at } = batches.at(-1)!.batch;
  const sum = (name: "accepted" | "repeated" | "setAside") => batches.reduce((total, { answer }) => total + answer[name], 0);
  const problem = batches.flatMap(({ answer }) => answer.firstSetAside).at(-1)?.reason ?? null;
  return {
    organisationId: source.organisationId,
    siteId: source.siteId,
    source: source.name,
    at,
    batches: batches.length,
    accepted: sum("accepted"),
    repeated: sum("repeated"),
    setAside: sum("setAside"),
    problem,
    problemAt: problem === null ? null : at,
  };
}
