import { once } from "node:events";
import { createReadStream, createWriteStream, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Papa from "papaparse";
import { takeLog } from "@/lib/cli/screen-log";
import { parseRatingText } from "@/lib/electrical/parse-rating";
import type { PlannedOutlet } from "@/lib/watch/outlet-plan";
import type { Reading } from "@/lib/watch/reading";
import type { ScreenedAppliance } from "@/lib/watch/screened-appliance";
import { makeScreening, type ScreeningCounts } from "@/lib/watch/screening";
import type { Bench, BenchResult } from "./bench-result";
import { Random } from "./random";

const outletCount = 50;
const plates = [
  ["space heater", "120V~ 60Hz 1500W"],
  ["fan", "120V 60Hz 75W"],
  ["monitor", "INPUT 100-240V~ 1.5A"],
  ["floor lamp", "120V 3xMAX 60W E26"],
] as const;

/** An invented site: 50 outlets of two receptacles on 10 circuits and two legs, an appliance in each. */
function plan(): { outlets: PlannedOutlet[]; appliances: ScreenedAppliance[] } {
  const outlets = Array.from({ length: outletCount }, (_, at) => ({
    site: "Alder House",
    timeZone: "America/Chicago",
    unit: null,
    circuit: `C${at % 10}`,
    deviceAmps: 20,
    volts: 120,
    leg: at % 2 === 0 ? "A" : "B",
    outlet: `O${at}`,
    outletAmps: 15,
    receptacles: 2,
  }));
  const appliances = outlets.flatMap((outlet, at) =>
    ["1", "2"].map((receptacle): ScreenedAppliance => {
      const [category, plate] = plates[at % plates.length]!;
      return {
        tag: `T${at}-${receptacle}`,
        site: outlet.site,
        outlet: outlet.outlet,
        receptacle,
        category,
        rating: parseRatingText(plate),
      };
    }),
  );
  return { outlets, appliances };
}

const draws = [1480, 70, 90, 150];

/** `count` readings, one a second from each receptacle in turn; each now and then starts up, fails for a while, or is off. */
function readings(count: number): Reading[] {
  const random = new Random(20_260_301);
  const start = Date.UTC(2026, 2, 1);
  const failing = new Map<number, number>();
  return Array.from({ length: count }, (_, at) => {
    const receptacle = at % (outletCount * 2);
    const outlet = receptacle >> 1;
    if (random.next() < 0.0001) failing.set(receptacle, 10);
    const left = failing.get(receptacle) ?? 0;
    if (left > 0) failing.set(receptacle, left - 1);
    const watts = draws[outlet % draws.length]! * (left > 0 ? 1.5 : 1) + Math.round(random.next() * 100) / 10;
    const volts = 119 + Math.round(random.next() * 20) / 10;
    const amps = Math.round((watts / volts) * 1000) / 1000;
    return {
      atMs: start + Math.floor(at / (outletCount * 2)) * 1000,
      outlet: `O${outlet}`,
      receptacle: receptacle % 2 === 0 ? "1" : "2",
      tag: null,
      watts,
      amps,
      volts,
      powerFactor: 0.98,
      event: null,
      cause: null,
    };
  });
}

/** The best of several rounds, since everything else on the machine only adds. */
function milliseconds(times: readonly number[]): number {
  return Math.min(...times);
}

async function timed(work: () => unknown): Promise<number> {
  (globalThis as { gc?: () => void }).gc?.();
  const started = performance.now();
  await work();
  return performance.now() - started;
}

function screenReadings(rows: readonly Reading[]): ScreeningCounts {
  const screening = makeScreening(plan());
  for (const row of rows) screening.take(row);
  const { counts, results } = screening.finish();
  if (counts.judged !== rows.length || results.length === 0) throw new Error("The screening did not judge every reading.");
  return counts;
}

async function engine(count: number): Promise<BenchResult> {
  const rows = readings(count);
  screenReadings(rows);
  const times: number[] = [];
  for (let run = 0; run < 5; run++) times.push(await timed(() => screenReadings(rows)));
  const ms = milliseconds(times);
  return {
    bench: "screen",
    measure: `${count} readings in memory, all kinds`,
    ours: { ms: Math.round(ms), perSecond: Math.round((count / ms) * 1000) },
    n: times.length,
  };
}

async function writeLog(path: string, rows: readonly Reading[]): Promise<void> {
  const out = createWriteStream(path);
  out.write("at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause\n");
  for (let from = 0; from < rows.length; from += 10_000) {
    const lines = rows
      .slice(from, from + 10_000)
      .map(
        (row) =>
          `${new Date(row.atMs).toISOString().replace(".000", "")},${row.outlet},${row.receptacle},,${row.watts},${row.amps},${row.volts},${row.powerFactor},,\n`,
      );
    if (!out.write(lines.join(""))) await once(out, "drain");
  }
  out.end();
  await once(out, "finish");
}

async function screenFile(path: string, count: number): Promise<void> {
  const site = plan();
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
    await writeLog(path, readings(count));
    const [ours, theirs]: [number[], number[]] = [[], []];
    for (let run = 0; run < 4; run++) {
      const [mine, library] = [await timed(() => screenFile(path, count)), await timed(() => parseFile(path, count))];
      if (run === 0) continue;
      ours.push(mine);
      theirs.push(library);
    }
    const [mine, library] = [milliseconds(ours), milliseconds(theirs)];
    return {
      bench: "screen",
      measure: `${count}-row CSV end to end / papaparse alone`,
      ratio: Math.round((mine / library) * 1000) / 1000,
      ours: { ms: Math.round(mine) },
      theirs: { ms: Math.round(library) },
      n: ours.length,
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The pure screening of readings in memory, and the screening of a CSV file beside the CSV library alone. One warm-up run each. */
export const bench: Bench = async ({ small }) => {
  const count = small ? 100_000 : 1_000_000;
  return [await engine(count), await endToEnd(count)];
};
