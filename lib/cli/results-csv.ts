import { writeFileSync } from "node:fs";
import Papa from "papaparse";
import type { ScreeningCounts } from "@/lib/watch/screening";
import type { ScreeningResult } from "@/lib/watch/screening-result";
import { WrongUse } from "./command";

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

function resultCells(result: ScreeningResult): string[] {
  const { kind, site, circuit, outlet, receptacle, tag, value, limit, ratio, signalWord, reasons } = result;
  const place = [site, circuit, outlet, receptacle, tag].map((cell) => cell ?? "");
  const measure = [isoTime(result.fromMs), isoTime(result.toMs), String(value), String(limit), String(ratio)];
  return [kind, ...place, ...measure, signalWord, reasons.join(" ")];
}

/** The results of a screening as CSV (RFC 4180) with a header; times in UTC. */
export function resultsCsv(results: readonly ScreeningResult[]): string {
  return `${Papa.unparse([header, ...results.map(resultCells)], { newline: "\r\n" })}\r\n`;
}

/** The account of a screening's rows as one JSON line: read, judged, set aside by reason, and what else is worth a count. */
export function accountLine(counts: ScreeningCounts, results: number, repeatedHour = 0): string {
  const { read, judged, setAside, apart, twoPlaces } = counts;
  const marked = {
    ...(repeatedHour > 0 ? { repeated_hour: repeatedHour } : {}),
    ...(apart > 0 ? { without_circuit: apart } : {}),
    ...(twoPlaces === undefined ? {} : { tag_at_two_places: twoPlaces }),
  };
  return JSON.stringify({ read, judged, set_aside: setAside, results, ...marked });
}

/** Writes a text to a path, or to standard output for `-`. */
export function writeOut(path: string, text: string): void {
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
