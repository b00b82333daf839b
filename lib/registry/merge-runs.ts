import type { KeptPart } from "@/lib/store/kept-log-queries";

/** A part of this many rows or more is large enough as it is. */
const smallRows = 10_000;
/** A merged part holds at most this many rows, and spans at most a day, so that a minute is still found without opening much. */
const mostRows = 20_000;
const mostSpanMs = 24 * 3_600_000;

function fits(run: readonly KeptPart[], part: KeptPart): boolean {
  const parts = [...run, part];
  const rows = parts.reduce((sum, one) => sum + one.rows, 0);
  const from = parts.reduce((least, { fromAt }) => Math.min(least, fromAt.getTime()), Number.POSITIVE_INFINITY);
  const to = parts.reduce((most, { toAt }) => Math.max(most, toAt.getTime()), Number.NEGATIVE_INFINITY);
  return rows <= mostRows && to - from <= mostSpanMs;
}

/**
 * The neighbouring small parts of one load that are kept as one part from now on, run by run. `parts` are all parts of the load in its
 * order, so that a merged part holds what came one after the other and nothing between is jumped over.
 */
export function mergeRuns(parts: readonly KeptPart[]): KeptPart[][] {
  const runs: KeptPart[][] = [];
  let run: KeptPart[] = [];
  const end = () => {
    if (run.length > 1) runs.push(run);
    run = [];
  };
  for (const part of parts) {
    if (part.rows >= smallRows || !fits(run, part)) end();
    if (part.rows < smallRows) run.push(part);
  }
  end();
  return runs;
}
