import type { ShownRun } from "@/lib/registry/import-list";

/** The kinds of file in a person's words. */
export const kindWords: Readonly<Record<ShownRun["kind"], string>> = {
  labels: "Labels",
  places: "Places",
  notices: "Recall list",
  log: "Outlet log",
};

export const stateWords: Readonly<Record<ShownRun["state"], string>> = {
  waiting: "not started",
  running: "running",
  done: "done",
  stopped: "stopped",
  broken_off: "broken off",
};

const delimiterWords: Readonly<Record<string, string>> = { ",": "CSV, commas", ";": "CSV, semicolons", "\t": "CSV, tabs" };

export function readAs(delimiter: string): string {
  return delimiterWords[delimiter] ?? `CSV, separated by “${delimiter}”`;
}

export function sizeWords(bytes: number | null): string {
  if (bytes === null) return "not known";
  return bytes < 1e6 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

/** An instant as day and time, UTC, the same on server and page. */
export function instantWords(at: Date): string {
  return `${at.toISOString().slice(0, 10)} ${at.toISOString().slice(11, 16)} UTC`;
}

/** A stretch of time, roughly. */
export function timeWords(seconds: number): string {
  if (seconds < 90) return `about ${Math.max(1, Math.round(seconds))} seconds`;
  return seconds < 5400 ? `about ${Math.round(seconds / 60)} minutes` : `about ${Math.round(seconds / 3600)} hours`;
}

export interface Pace {
  readonly rowsPerSecond: number;
  readonly secondsLeft: number | null;
}

/** How fast a run goes and how long it will take, from the bytes it has read. */
export function paceOf(run: ShownRun, since: Date | null): Pace | null {
  const seconds = since === null ? 0 : (run.heartbeatAt.getTime() - since.getTime()) / 1000;
  if (seconds < 0.5 || run.rowsRead === 0) return null;
  const left = run.byteLength === null || run.bytesDone === 0 ? null : (seconds * (run.byteLength - run.bytesDone)) / run.bytesDone;
  return { rowsPerSecond: Math.round(run.rowsRead / seconds), secondsLeft: left };
}

export const counted = (count: number, one: string, many = `${one}s`) => `${count.toLocaleString("en-US")} ${count === 1 ? one : many}`;
