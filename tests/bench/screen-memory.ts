import { ReadingBatch } from "@/lib/watch/reading-batch";
import { makeScreening, type Screening } from "@/lib/watch/screening";
import type { BenchResult } from "./bench-result";
import { type InventedSite, inventedSite, mixedItems, ReadingMaker, receptaclesOf } from "./screen-site";
import { best, bytesInUse, collectGarbage, type Took, timed } from "./stopwatch";

const outletCount = 50;

/** Readings made beforehand, for a screening of the site of `outletCount` outlets. */
function madeReadings(site: InventedSite, count: number): ReadingBatch {
  const batch = new ReadingBatch(count);
  new ReadingMaker(receptaclesOf(site, makeScreening(site))).fill(batch);
  return batch;
}

function screenBatch(site: InventedSite, batch: ReadingBatch): void {
  const screening = makeScreening(site);
  screening.takeBatch(batch);
  const { counts, results } = screening.finish();
  if (counts.judged !== batch.count || results.length === 0) throw new Error("The screening did not judge every reading.");
}

function rates(count: number, { ms, cpuMs }: Took): Record<string, number> {
  const perSecond = (time: number) => Math.round((count / time) * 1000);
  return { ms: Math.round(ms), perSecond: perSecond(ms), cpuMs: Math.round(cpuMs), perCpuSecond: perSecond(cpuMs) };
}

/** The screening of readings in memory, judging every kind. */
export async function engineSpeed(count: number): Promise<BenchResult> {
  const site = inventedSite(outletCount);
  const batch = madeReadings(site, count);
  for (let warm = 0; warm < 3; warm++) screenBatch(site, batch);
  collectGarbage();
  const rounds: Took[] = [];
  for (let run = 0; run < 10; run++) rounds.push(await timed(() => screenBatch(site, batch)));
  return { bench: "screen", measure: `${count} readings in memory, all kinds`, ours: rates(count, best(rounds)), n: rounds.length };
}

interface Round {
  readonly round: number;
  /** Share of what each item usually draws. */
  readonly share: number;
  readonly volts: number;
}

/** Readings of a receptacle each, a second apart, so that the window of 60 s holds few. */
function feedEach(screening: Screening, receptacles: Int32Array, { round, share, volts }: Round): void {
  const batch = new ReadingBatch(receptacles.length);
  batch.count = batch.capacity;
  for (let at = 0; at < receptacles.length; at++) {
    const watts = mixedItems[at % mixedItems.length]!.watts * share;
    batch.atMs[at] = Date.UTC(2026, 2, 1) + (round * receptacles.length + at) * 1000;
    batch.watts[at] = watts;
    batch.amps[at] = watts / 120;
    batch.volts[at] = volts;
    batch.powerFactor[at] = 1;
    batch.tag[at] = -1;
    batch.receptacle[at] = receptacles[at]!;
  }
  screening.takeBatch(batch);
}

/**
 * What a screening keeps for each receptacle besides the window of 60 s: as usual, and with every receptacle, every outlet and every
 * outlet's voltage above its limit at once.
 */
export function stateSize(receptacleCount: number): BenchResult {
  const site = inventedSite(receptacleCount / 2);
  const before = bytesInUse();
  const screening = makeScreening(site);
  const receptacles = receptaclesOf(site, screening);
  for (const round of [0, 1, 2]) feedEach(screening, receptacles, { round, share: 1, volts: 120 });
  const usual = bytesInUse() - before - receptacles.byteLength;
  feedEach(screening, receptacles, { round: 3, share: 3.6, volts: 130 });
  const above = bytesInUse() - before - receptacles.byteLength;
  const bytes = Math.round(usual / receptacleCount);
  const bytesAllAbove = Math.round(above / receptacleCount);
  const kept = Math.round(screening.saveState().length / receptacleCount);
  return {
    bench: "screen",
    measure: `state of each of ${receptacleCount} receptacles, with its share of outlet, circuit and appliance / 512 bytes`,
    ratio: Math.round((bytes / 512) * 1000) / 1000,
    ours: { bytes, bytesAllAbove, bytesKeptAsState: kept },
  };
}

/** Screens readings that are made as they are taken; only the screening is timed. */
function screenStream(count: number): Took & { readonly mebibytes: number } {
  const site = inventedSite(outletCount);
  const screening = makeScreening(site);
  const maker = new ReadingMaker(receptaclesOf(site, screening));
  const batch = new ReadingBatch(10_000);
  let [ms, cpuMs, mostBytes] = [0, 0, 0];
  for (let done = 0; done < count; done += batch.capacity) {
    maker.fill(batch);
    const [started, startedCpu] = [performance.now(), process.cpuUsage()];
    screening.takeBatch(batch);
    ms += performance.now() - started;
    const used = process.cpuUsage(startedCpu);
    cpuMs += (used.user + used.system) / 1000;
    if ((done / batch.capacity) % 25 === 0) mostBytes = Math.max(mostBytes, bytesInUse());
  }
  if (screening.finish().counts.judged !== count) throw new Error("The screening did not judge every reading.");
  return { ms, cpuMs, mebibytes: Math.round(mostBytes / 2 ** 20) };
}

/** Ten times the readings: how much longer, and the most memory in use on the way. */
export function growth(count: number): BenchResult {
  screenStream(count);
  const [few, many] = [screenStream(count), screenStream(count * 10)];
  return {
    bench: "screen",
    measure: `${count * 10} readings as they come / ${count}`,
    ratio: Math.round((many.cpuMs / few.cpuMs) * 100) / 100,
    ours: { ms: Math.round(many.ms), cpuMs: Math.round(many.cpuMs), mebibytes: many.mebibytes },
    theirs: { ms: Math.round(few.ms), cpuMs: Math.round(few.cpuMs), mebibytes: few.mebibytes },
    rssMebibytes: Math.round(process.memoryUsage.rss() / 2 ** 20),
  };
}
