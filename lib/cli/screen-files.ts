import { statSync } from "node:fs";
import { Trouble } from "@/lib/access/trouble";
import { makeScreening, type Screening, type ScreeningInput } from "@/lib/watch/screening";
import { WrongUse } from "./command";
import { accountLine, resultsCsv, writeOut } from "./results-csv";
import { takeLog, type ZoneOfOutlet } from "./screen-log";
import { readAppliances, readPlaces } from "./screen-plan";
import { takeSortedLog } from "./sorted-log";

export interface ScreenFiles {
  /** Paths; `-` is standard input. */
  readonly labels: string;
  readonly places: string;
  readonly log: string;
  /** IANA zone for sites whose places name none. */
  readonly zone: string | null;
  readonly out: string;
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

function sayAside(path: string, sentences: readonly string[]): void {
  for (const sentence of sentences) process.stderr.write(`${path === "-" ? "standard input" : path}: ${sentence}\n`);
}

interface ScreenedLog extends ReturnType<Screening["finish"]> {
  readonly repeatedHour: number;
}

/** Screens in one pass; a file of which more than 1 % runs behind, outlet after outlet, is read again in the order of time. */
async function screenLog(path: string, input: ScreeningInput, zoneOf: ZoneOfOutlet): Promise<ScreenedLog> {
  const screening = makeScreening(input);
  const account = await takeLog(path, screening, zoneOf);
  const found = screening.finish();
  const { repeatedHour } = account;
  if (found.counts.apart * 100 <= found.counts.judged || !isRegularFile(path)) return { ...found, repeatedHour };
  const sorted = makeScreening(input);
  await takeSortedLog(path, sorted, zoneOf, account);
  return { ...sorted.finish(), repeatedHour };
}

function isRegularFile(path: string): boolean {
  return path !== "-" && statSync(path).isFile();
}

/** Screens a log of a file against labels and places of files; writes the results as CSV and the account of rows to standard error. */
export async function screenFiles({ labels, places, log, zone, out }: ScreenFiles): Promise<0 | 1> {
  const plan = await reading(places, () => readPlaces(places, zone));
  const appliances = await reading(labels, () => readAppliances(labels));
  sayAside(places, plan.aside);
  sayAside(labels, appliances.aside);
  const zones = new Map(plan.rows.map((outlet) => [outlet.outlet, outlet.timeZone]));
  const input = { outlets: plan.rows, appliances: appliances.rows };
  const { results, counts, repeatedHour } = await reading(log, () => screenLog(log, input, (outlet) => zones.get(outlet)));
  writeOut(out, resultsCsv(results));
  process.stderr.write(`${accountLine(counts, results.length, repeatedHour)}\n`);
  const aside = Object.keys(counts.setAside).length + plan.aside.length + appliances.aside.length;
  return aside > 0 ? 1 : 0;
}
