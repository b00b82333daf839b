import { writeFileSync } from "node:fs";
import Papa from "papaparse";
import { Trouble } from "@/lib/access/trouble";
import { makeScreening, type ScreeningCounts } from "@/lib/watch/screening";
import type { ScreeningResult } from "@/lib/watch/screening-result";
import { WrongUse } from "./command";
import { type LogAccount, takeLog } from "./screen-log";
import { readAppliances, readPlaces } from "./screen-plan";

export interface ScreenFiles {
  /** Paths; `-` is standard input. */
  readonly labels: string;
  readonly places: string;
  readonly log: string;
  /** IANA zone for sites whose places name none. */
  readonly zone: string | null;
  readonly out: string;
}

const header = [
  "kind",
  "site",
  "circuit",
  "outlet",
  "receptacle",
  "tag",
  "from",
  "to",
  "value",
  "limit",
  "ratio",
  "signal_word",
  "reasons",
];

/** An instant as ISO 8601 in UTC, milliseconds only where there are any. */
function isoTime(atMs: number): string {
  return new Date(atMs).toISOString().replace(".000Z", "Z");
}

/** The result's cells in the order of the CSV. */
export function resultCells(result: ScreeningResult): string[] {
  const { kind, site, circuit, outlet, receptacle, tag, value, limit, ratio, signalWord, reasons } = result;
  const place = [site, circuit, outlet, receptacle, tag].map((cell) => cell ?? "");
  const measure = [isoTime(result.fromMs), isoTime(result.toMs), String(value), String(limit), String(ratio)];
  return [kind, ...place, ...measure, signalWord, reasons.join(" ")];
}

/** The results as CSV (RFC 4180) with a header. */
export function resultsCsv(results: readonly ScreeningResult[]): string {
  return `${Papa.unparse([header, ...results.map(resultCells)], { newline: "\r\n" })}\r\n`;
}

/** Turns a file that cannot be read into one sentence. */
async function reading<Value>(path: string, work: () => Promise<Value>): Promise<Value> {
  try {
    return await work();
  } catch (error) {
    const name = path === "-" ? "standard input" : path;
    if (error instanceof Trouble) throw new WrongUse(`${name}: ${error.message}`);
    const { code } = error as NodeJS.ErrnoException;
    if (typeof code === "string" && /^E[A-Z]+$/.test(code))
      throw new WrongUse(`${name} cannot be read (${code}): give the path of a file that exists.`);
    throw error;
  }
}

function write(path: string, text: string): void {
  if (path === "-") {
    process.stdout.write(text);
    return;
  }
  try {
    writeFileSync(path, text);
  } catch (error) {
    throw new WrongUse(`${path} cannot be written (${(error as NodeJS.ErrnoException).code ?? String(error)}).`);
  }
}

function account(counts: ScreeningCounts, log: LogAccount, results: number): string {
  const { read, judged, setAside, apart } = counts;
  const marked = { ...(log.repeatedHour > 0 ? { repeated_hour: log.repeatedHour } : {}), ...(apart > 0 ? { without_circuit: apart } : {}) };
  return JSON.stringify({ read, judged, set_aside: setAside, results, ...marked });
}

/** Screens a log of a file against labels and places of files; writes the results as CSV and the account of rows to standard error. */
export async function screenFiles({ labels, places, log, zone, out }: ScreenFiles): Promise<0 | 1> {
  const plan = await reading(places, () => readPlaces(places, zone));
  const appliances = await reading(labels, () => readAppliances(labels));
  for (const sentence of plan.aside) process.stderr.write(`${places}: ${sentence}\n`);
  for (const sentence of appliances.aside) process.stderr.write(`${labels}: ${sentence}\n`);
  const zones = new Map(plan.rows.map((outlet) => [outlet.outlet, outlet.timeZone]));
  const screening = makeScreening({ outlets: plan.rows, appliances: appliances.rows });
  const taken = await reading(log, () => takeLog(log, screening, (outlet) => zones.get(outlet)));
  const { results, counts } = screening.finish();
  write(out, resultsCsv(results));
  process.stderr.write(`${account(counts, taken, results.length)}\n`);
  const aside = Object.keys(counts.setAside).length + plan.aside.length + appliances.aside.length;
  return aside > 0 ? 1 : 0;
}
