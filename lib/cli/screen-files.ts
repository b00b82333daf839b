import { Trouble } from "@/lib/access/trouble";
import { makeScreening } from "@/lib/watch/screening";
import { WrongUse } from "./command";
import { accountLine, resultsCsv, writeOut } from "./results-csv";
import { takeLog } from "./screen-log";
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

/** Screens a log of a file against labels and places of files; writes the results as CSV and the account of rows to standard error. */
export async function screenFiles({ labels, places, log, zone, out }: ScreenFiles): Promise<0 | 1> {
  const plan = await reading(places, () => readPlaces(places, zone));
  const appliances = await reading(labels, () => readAppliances(labels));
  sayAside(places, plan.aside);
  sayAside(labels, appliances.aside);
  const zones = new Map(plan.rows.map((outlet) => [outlet.outlet, outlet.timeZone]));
  const screening = makeScreening({ outlets: plan.rows, appliances: appliances.rows });
  const taken = await reading(log, () => takeLog(log, screening, (outlet) => zones.get(outlet)));
  const { results, counts } = screening.finish();
  writeOut(out, resultsCsv(results));
  process.stderr.write(`${accountLine(counts, results.length, taken.repeatedHour)}\n`);
  const aside = Object.keys(counts.setAside).length + plan.aside.length + appliances.aside.length;
  return aside > 0 ? 1 : 0;
}
