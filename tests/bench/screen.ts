import { once } from "node:events";
import { createReadStream, createWriteStream, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Papa from "papaparse";
import { takeLog } from "@/lib/cli/screen-log";
import { ReadingBatch } from "@/lib/watch/reading-batch";
import { makeScreening } from "@/lib/watch/screening";
import type { Bench, BenchResult } from "./bench-result";
import { besideDuckDb } from "./screen-duckdb";
import { engineSpeed, growth, stateSize } from "./screen-memory";
import { inventedSite, ReadingMaker } from "./screen-site";
import { best, collectGarbage, type Took, timed } from "./stopwatch";

const outletCount = 50;

async function writeLog(path: string, count: number): Promise<void> {
  const out = createWriteStream(path);
  out.write("at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause\n");
  const batch = new ReadingBatch(10_000);
  const maker = new ReadingMaker(Int32Array.from({ length: outletCount * 2 }, (_, receptacle) => receptacle));
  for (let done = 0; done < count; done += batch.count) {
    maker.fill(batch);
    const lines = Array.from({ length: batch.count }, (_, at) => {
      const [time, receptacle] = [new Date(batch.atMs[at]!).toISOString().replace(".000", ""), batch.receptacle[at]!];
      return `${time},O${receptacle >> 1},${(receptacle & 1) + 1},,${batch.watts[at]},${batch.amps[at]},${batch.volts[at]},0.98,,\n`;
    });
    if (!out.write(lines.join(""))) await once(out, "drain");
  }
  out.end();
  await once(out, "finish");
}

async function screenFile(path: string, count: number): Promise<void> {
  const site = inventedSite(outletCount);
  const zones = new Map(site.outlets.map((outlet) => [outlet.outlet, outlet.timeZone]));
  const screening = makeScreening(site);
  await takeLog(path, screening, (outlet) => zones.get(outlet));
  if (screening.finish().counts.judged !== count) throw new Error("The screening did not judge every row.");
}

/** The CSV library alone, streaming the same file into rows of cells that are counted. */
function parseFile(path: string, count: number): Promise<void> {
  return new Promise((resolve, reject) => {
    let rows = 0;
    Papa.parse(createReadStream(path, { highWaterMark: 1 << 20 }), {
      chunk: ({ data }) => {
        rows += data.length;
      },
      skipEmptyLines: true,
      complete: () => (rows === count + 1 ? resolve() : reject(new Error(`The CSV library read ${rows} rows.`))),
      error: reject,
    });
  });
}

async function endToEnd(count: number): Promise<BenchResult> {
  const folder = mkdtempSync(join(tmpdir(), "screen-bench-"));
  try {
    const path = join(folder, "log.csv");
    await writeLog(path, count);
    collectGarbage();
    const [ours, theirs]: [Took[], Took[]] = [[], []];
    for (let run = 0; run < 4; run++) {
      const [mine, library] = [await timed(() => screenFile(path, count)), await timed(() => parseFile(path, count))];
      if (run === 0) continue;
      ours.push(mine);
      theirs.push(library);
    }
    const [mine, library] = [best(ours), best(theirs)];
    return {
      bench: "screen",
      measure: `${count}-row CSV end to end / papaparse alone`,
      ratio: Math.round((mine.ms / library.ms) * 1000) / 1000,
      cpuRatio: Math.round((mine.cpuMs / library.cpuMs) * 1000) / 1000,
      ours: { ms: Math.round(mine.ms), cpuMs: Math.round(mine.cpuMs) },
      theirs: { ms: Math.round(library.ms), cpuMs: Math.round(library.cpuMs) },
      n: ours.length,
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/**
 * The pure screening of readings in memory: its speed, its state, its growth, and beside DuckDB; and the screening of a CSV file beside
 * the CSV library alone. After warm-up runs.
 */
export const bench: Bench = async ({ small }) => {
  const count = small ? 100_000 : 1_000_000;
  // The state first, while no readings made for the others are still on their way out of memory.
  const state = stateSize(small ? 10_000 : 100_000);
  return [await engineSpeed(count), state, await besideDuckDb(count), growth(count), await endToEnd(count)];
};
