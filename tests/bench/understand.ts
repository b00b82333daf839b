import { understand } from "@/lib/notices/understand";
import type { Bench } from "./bench-result";
import { inventedNotice } from "./invented-notices";

/** Notices read before the clock starts, so that the measured ones run compiled. */
const warmUp = 200;

/**
 * Prose to coverage for a whole list, once, on one thread. The target is ten seconds for 10,000 notices; the ratio is the
 * time taken over that target, so that a value below 1 meets it.
 */
export const bench: Bench = async ({ small }) => {
  const count = small ? 1_000 : 10_000;
  const targetMilliseconds = count;
  const notices = Array.from({ length: count }, (_, seed) => inventedNotice(seed));
  let statements = 0;
  for (let seed = 0; seed < warmUp; seed++) statements += understand(inventedNotice(count + seed)).spans.length;
  const begun = performance.now();
  for (const notice of notices) statements += understand(notice).spans.length;
  const ms = performance.now() - begun;
  const one = performance.now();
  statements += understand(inventedNotice(count + warmUp)).spans.length;
  const changed = performance.now() - one;
  return [
    {
      bench: "understand",
      measure: `${count} notices to coverage, one thread`,
      ratio: ms / targetMilliseconds,
      ours: { ms, perNoticeMs: ms / count, oneChangedNoticeMs: changed },
      theirs: { targetMs: targetMilliseconds },
      n: count,
      statements,
      warmUp,
    },
  ];
};
