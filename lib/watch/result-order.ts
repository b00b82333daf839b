import type { ScreeningResult } from "./screening-result";

function compareText(a: string | null, b: string | null): number {
  const [left, right] = [a ?? "", b ?? ""];
  return left < right ? -1 : left > right ? 1 : 0;
}

/** The steady order of results: by time, then kind and place, so that the same log gives the same bytes. */
export function compareResults(a: ScreeningResult, b: ScreeningResult): number {
  return (
    a.fromMs - b.fromMs ||
    compareText(a.kind, b.kind) ||
    compareText(a.site, b.site) ||
    compareText(a.circuit, b.circuit) ||
    compareText(a.outlet, b.outlet) ||
    compareText(a.receptacle, b.receptacle) ||
    compareText(a.tag, b.tag) ||
    a.toMs - b.toMs ||
    a.limit - b.limit
  );
}
