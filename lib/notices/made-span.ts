import type { MadeWindow } from "./coverage";
import { dayBeside } from "./days";

/**
 * Windows of manufacture said more than once or in pieces: a span of whole years that only restates a finer one is
 * dropped, and windows that follow each other without a gap become one ("April, May and June of 1989").
 */
export function joinMade(windows: readonly MadeWindow[]): MadeWindow[] {
  const finer = windows.filter((one) => !windows.some((other) => other !== one && restates(one, other)));
  const joined: MadeWindow[] = [];
  for (const window of finer) {
    const last = joined[joined.length - 1];
    if (
      last &&
      !last.for &&
      !window.for &&
      last.from !== null &&
      last.to !== null &&
      window.from !== null &&
      dayBeside(last.to, 1) === window.from
    ) {
      joined[joined.length - 1] = { from: last.from, to: window.to };
    } else joined.push(window);
  }
  return joined;
}

/** Whole years around another window of the same years. */
function restates(years: MadeWindow, finer: MadeWindow): boolean {
  if (years.from === null || years.to === null || finer.from === null || finer.to === null || years.for) return false;
  if (!years.from.endsWith("-01-01") || !years.to.endsWith("-12-31")) return false;
  const same = years.from.slice(0, 4) === finer.from.slice(0, 4) && years.to.slice(0, 4) === finer.to.slice(0, 4);
  return same && (finer.from > years.from || finer.to < years.to);
}
