import type { ScreeningResult } from "./screening-result";

/**
 * What stays the same of a result while its excess goes on: kind, place, appliance and beginning. Repeated trips and drifts begin where
 * they were first seen, so a result that grows keeps its identity; one circuit's two limits are two results.
 */
export function resultIdentity({ kind, site, circuit, outlet, receptacle, tag, fromMs, limit }: ScreeningResult): string {
  const ofLimit = kind === "circuit_overload" ? limit : null;
  return JSON.stringify([kind, site, circuit, outlet, receptacle, tag, fromMs, ofLimit]);
}
