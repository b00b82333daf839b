import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import { ReadingBatch } from "@/lib/watch/reading-batch";
import { makeScreening } from "@/lib/watch/screening";
import type { BenchResult } from "./bench-result";
import { type InventedSite, inventedSite, plainItems, ReadingMaker, receptaclesOf } from "./screen-site";
import { best, type Took, timed } from "./stopwatch";

/** A run above the limit of one receptacle, times in ms. */
interface Run {
  readonly receptacle: number;
  readonly fromMs: number;
  readonly toMs: number;
}

/** The runs above a limit that last longer than 4 s, by window functions over gaps and islands. */
const query = `
  WITH judged AS (
    SELECT log.receptacle, log.at_ms, log.watts > limits.watts AS above FROM log JOIN limits USING (receptacle)
  ), islands AS (
    SELECT receptacle, at_ms, above,
      row_number() OVER (PARTITION BY receptacle ORDER BY at_ms) - row_number() OVER (PARTITION BY receptacle, above ORDER BY at_ms) AS island
    FROM judged
  )
  SELECT receptacle, min(at_ms) AS from_ms, max(at_ms) AS to_ms FROM islands WHERE above
  GROUP BY receptacle, island HAVING max(at_ms) - min(at_ms) >= 4000 ORDER BY receptacle, from_ms`;

/** A table of the readings and one of the limits, on one thread. */
async function openTable(batch: ReadingBatch, limits: readonly number[]): Promise<DuckDBConnection> {
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  await connection.run("SET threads = 1");
  await connection.run("CREATE TABLE log (receptacle INTEGER, at_ms BIGINT, watts DOUBLE, amps DOUBLE, volts DOUBLE)");
  await connection.run("CREATE TABLE limits (receptacle INTEGER, watts DOUBLE)");
  const log = await connection.createAppender("log");
  for (let at = 0; at < batch.count; at++) {
    log.appendInteger(batch.receptacle[at]!);
    log.appendBigInt(BigInt(batch.atMs[at]!));
    log.appendDouble(batch.watts[at]!);
    log.appendDouble(batch.amps[at]!);
    log.appendDouble(batch.volts[at]!);
    log.endRow();
  }
  log.closeSync();
  const table = await connection.createAppender("limits");
  for (const [receptacle, watts] of limits.entries()) {
    table.appendInteger(receptacle);
    table.appendDouble(watts);
    table.endRow();
  }
  table.closeSync();
  return connection;
}

async function theirRuns(connection: DuckDBConnection): Promise<Run[]> {
  const rows = await (await connection.runAndReadAll(query)).getRows();
  return rows.map(([receptacle, fromMs, toMs]) => ({ receptacle: Number(receptacle), fromMs: Number(fromMs), toMs: Number(toMs) }));
}

/** Ours are the appliances above their rating, found while everything else is judged too. */
function ourRuns(site: InventedSite, batch: ReadingBatch): Run[] {
  const screening = makeScreening(site);
  screening.takeBatch(batch);
  const { results, counts } = screening.finish();
  if (counts.judged !== batch.count) throw new Error("The screening did not judge every reading.");
  return results
    .filter(({ kind }) => kind === "over_rating")
    .map(({ outlet, receptacle, fromMs, toMs }) => ({ receptacle: screening.receptacleNumber(outlet ?? "", receptacle), fromMs, toMs }));
}

/** Runs closer than 10 s are one, as the screening has them. */
function joined(runs: readonly Run[]): Run[] {
  const found: Run[] = [];
  for (const run of [...runs].sort((a, b) => a.receptacle - b.receptacle || a.fromMs - b.fromMs)) {
    const last = found.at(-1);
    if (last?.receptacle === run.receptacle && run.fromMs - last.toMs <= 10_000) found[found.length - 1] = { ...last, toMs: run.toMs };
    else found.push(run);
  }
  return found;
}

/** The screening of readings in memory beside DuckDB on one thread, the log in its table, finding only the runs above a limit. */
export async function besideDuckDb(count: number): Promise<BenchResult> {
  const site = inventedSite(50, plainItems);
  const batch = new ReadingBatch(count);
  const receptacles = receptaclesOf(site, makeScreening(site));
  new ReadingMaker(receptacles, plainItems).fill(batch);
  // Motors may draw 20 % above their rating (IEC 60335-1, 10.1, Table 1, from memory): the limits the screening uses.
  const limits = [1725, 90, 120, 192];
  const ofReceptacle: number[] = [];
  for (const [at, receptacle] of receptacles.entries()) ofReceptacle[receptacle] = limits[at % limits.length]!;
  const connection = await openTable(batch, ofReceptacle);
  const [mine, theirs] = [joined(ourRuns(site, batch)), joined(await theirRuns(connection))];
  if (mine.length === 0 || JSON.stringify(mine) !== JSON.stringify(theirs))
    throw new Error(`The runs differ: ${mine.length} by the screening, ${theirs.length} by DuckDB.`);
  const [ours, duck]: [Took[], Took[]] = [[], []];
  for (let run = 0; run < 6; run++) {
    ours.push(await timed(() => ourRuns(site, batch)));
    duck.push(await timed(() => theirRuns(connection)));
  }
  connection.closeSync();
  const [our, their] = [best(ours), best(duck)];
  return {
    bench: "screen",
    measure: `${count} readings in memory, all kinds / DuckDB, one thread, runs above a limit only`,
    ratio: Math.round((our.ms / their.ms) * 1000) / 1000,
    cpuRatio: Math.round((our.cpuMs / their.cpuMs) * 1000) / 1000,
    ours: { ms: Math.round(our.ms), cpuMs: Math.round(our.cpuMs), runs: mine.length },
    theirs: { ms: Math.round(their.ms), cpuMs: Math.round(their.cpuMs), runs: theirs.length },
    n: ours.length,
  };
}
