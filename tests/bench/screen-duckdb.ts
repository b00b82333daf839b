import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import { ReadingBatch } from "@/lib/watch/reading-batch";
import { makeScreening } from "@/lib/watch/screening";
import type { BenchResult } from "./bench-result";
import { type InventedSite, inventedSite, plainItems, ReadingMaker, receptaclesOf } from "./screen-site";
import { best, collectGarbage, type Took, timed } from "./stopwatch";

/** A run above the limit of one receptacle, times in ms. */
interface Run {
  readonly receptacle: number;
  readonly fromMs: number;
  readonly toMs: number;
}

/** The runs above a limit that last longer than 4 s, by window functions over gaps and islands; `key` tells the receptacles apart. */
function runsQuery(table: string, key: string): string {
  return `
  WITH judged AS (
    SELECT log.*, log.watts > limits.limit_watts AS above FROM ${table} log JOIN limits USING (${key})
  ), islands AS (
    SELECT ${key}, receptacle_no, ts, above,
      row_number() OVER (PARTITION BY ${key} ORDER BY ts) - row_number() OVER (PARTITION BY ${key}, above ORDER BY ts) AS island
    FROM judged
  )
  SELECT any_value(receptacle_no), epoch_ms(min(ts)), epoch_ms(max(ts)) FROM islands WHERE above
  GROUP BY ${key}, island HAVING max(ts) - min(ts) >= INTERVAL 4 SECOND`;
}

const byName = runsQuery("named", "outlet, receptacle");
const byNumber = runsQuery("numbered", "receptacle_no");

/** The readings in tables on one thread: with the names of a log, and with numbers for them; and the limits. */
async function openTables(batch: ReadingBatch, limits: readonly number[]): Promise<DuckDBConnection> {
  const connection = await (await DuckDBInstance.create(":memory:")).connect();
  await connection.run("SET threads = 1");
  await connection.run("CREATE TABLE raw (receptacle_no INTEGER, at_ms BIGINT, watts DOUBLE, amps DOUBLE, volts DOUBLE)");
  await connection.run("CREATE TABLE raw_limits (receptacle_no INTEGER, limit_watts DOUBLE)");
  const raw = await connection.createAppender("raw");
  for (let at = 0; at < batch.count; at++) {
    raw.appendInteger(batch.receptacle[at]!);
    raw.appendBigInt(BigInt(batch.atMs[at]!));
    raw.appendDouble(batch.watts[at]!);
    raw.appendDouble(batch.amps[at]!);
    raw.appendDouble(batch.volts[at]!);
    raw.endRow();
  }
  raw.closeSync();
  const table = await connection.createAppender("raw_limits");
  for (const [receptacle, watts] of limits.entries()) {
    table.appendInteger(receptacle);
    table.appendDouble(watts);
    table.endRow();
  }
  table.closeSync();
  const names = "'O' || (receptacle_no // 2) AS outlet, CAST(1 + receptacle_no % 2 AS VARCHAR) AS receptacle";
  await connection.run("CREATE TABLE numbered AS SELECT * EXCLUDE at_ms, epoch_ms(at_ms) AS ts FROM raw");
  await connection.run(`CREATE TABLE named AS SELECT *, ${names} FROM numbered`);
  await connection.run(`CREATE TABLE limits AS SELECT * EXCLUDE receptacle_no, receptacle_no, ${names} FROM raw_limits`);
  return connection;
}

async function theirRuns(connection: DuckDBConnection, query: string): Promise<Run[]> {
  const rows = (await connection.runAndReadAll(query)).getRows();
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

/**
 * The screening of readings in memory beside DuckDB on one thread, the log in its table, finding only the runs above a limit. Its table has
 * the names that a log has; what it takes where they are numbers already is printed too.
 */
export async function besideDuckDb(count: number): Promise<BenchResult> {
  const site = inventedSite(50, plainItems);
  const batch = new ReadingBatch(count);
  const receptacles = receptaclesOf(site, makeScreening(site));
  new ReadingMaker(receptacles, plainItems).fill(batch);
  // Motors may draw 20 % above their rating (IEC 60335-1, 10.1, Table 1, from memory): the limits the screening uses.
  const limits = [1725, 90, 120, 192];
  const ofReceptacle: number[] = [];
  for (const [at, receptacle] of receptacles.entries()) ofReceptacle[receptacle] = limits[at % limits.length]!;
  const connection = await openTables(batch, ofReceptacle);
  const [mine, theirs] = [joined(ourRuns(site, batch)), joined(await theirRuns(connection, byName))];
  if (mine.length === 0 || JSON.stringify(mine) !== JSON.stringify(theirs))
    throw new Error(`The runs differ: ${mine.length} by the screening, ${theirs.length} by DuckDB.`);
  collectGarbage();
  const [ours, duck, numbered]: [Took[], Took[], Took[]] = [[], [], []];
  for (let run = 0; run < 6; run++) {
    ours.push(await timed(() => ourRuns(site, batch)));
    duck.push(await timed(() => theirRuns(connection, byName)));
    numbered.push(await timed(() => theirRuns(connection, byNumber)));
  }
  connection.closeSync();
  const [our, their, theirNumbered] = [best(ours), best(duck), best(numbered)];
  return {
    bench: "screen",
    measure: `${count} readings in memory, all kinds / DuckDB, one thread, runs above a limit only`,
    ratio: Math.round((our.ms / their.ms) * 1000) / 1000,
    cpuRatio: Math.round((our.cpuMs / their.cpuMs) * 1000) / 1000,
    ours: { ms: Math.round(our.ms), cpuMs: Math.round(our.cpuMs), runs: mine.length },
    theirs: { ms: Math.round(their.ms), cpuMs: Math.round(their.cpuMs), runs: theirs.length },
    theirsWithNumbersForNames: { ms: Math.round(theirNumbered.ms), cpuMs: Math.round(theirNumbered.cpuMs) },
    n: ours.length,
  };
}
