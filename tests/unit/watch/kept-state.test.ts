import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Reading } from "@/lib/watch/reading";
import { resultIdentity } from "@/lib/watch/result-identity";
import { makeScreening, type ScreeningInput } from "@/lib/watch/screening";
import { UnreadableState } from "@/lib/watch/state-carrier";
import { appliance, days, minutes, noon, outlet, row, rows, screen, seconds } from "./log-builder";
import { arbitraryLog, plan } from "./wild-log";

/** Screens a log, stopped and gone on in a screening of its own at each cut; results are taken on the way when told so. */
function screenInPieces(log: readonly Reading[], cuts: readonly number[], drain = false) {
  const found = [];
  let screening = makeScreening(plan);
  for (let at = 0; at <= log.length; at++) {
    if (cuts.includes(at)) {
      if (drain) found.push(...screening.takeResults().settled);
      screening = makeScreening({ ...plan, state: screening.saveState() });
    }
    if (at < log.length) screening.take(log[at]!);
  }
  const last = screening.finish();
  return { results: [...found, ...last.results], counts: last.counts };
}

const inOrder = (results: readonly { readonly fromMs: number }[]) => results.map((result) => JSON.stringify(result)).sort();

function uninterrupted(log: readonly Reading[]) {
  const screening = makeScreening(plan);
  for (const reading of log) screening.take(reading);
  return screening.finish();
}

describe("a screening that is stopped, kept and gone on with", () => {
  it("gives byte for byte what an uninterrupted one gives, wherever it is cut", () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(arbitraryLog, fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 4 }), (log, shares) => {
        const cuts = shares.map((share) => Math.floor(share * log.length));
        const whole = uninterrupted(log);
        for (const { kind } of whole.results) kinds.add(kind);
        expect(JSON.stringify(screenInPieces(log, cuts))).toBe(JSON.stringify(whole));
        const drained = screenInPieces(log, cuts, true);
        expect(inOrder(drained.results)).toEqual(inOrder(whole.results));
        expect(drained.counts).toEqual(whole.counts);
      }),
      { numRuns: 60 },
    );
    expect([...kinds].sort()).toEqual([
      "circuit_overload",
      "drift",
      "high_voltage",
      "lamp_too_strong",
      "lost_neutral",
      "low_voltage",
      "outlet_overload",
      "over_rating",
      "repeated_trips",
    ]);
  });

  it("is itself untouched by being kept, and keeps the same bytes again after it was read back", () => {
    fc.assert(
      fc.property(arbitraryLog, (log) => {
        const screening = makeScreening(plan);
        for (const reading of log) screening.take(reading);
        const state = screening.saveState();
        expect(makeScreening({ ...plan, state }).saveState()).toEqual(state);
        screening.takeResults();
        expect(JSON.stringify(screening.finish().counts)).toBe(JSON.stringify(uninterrupted(log).counts));
      }),
      { numRuns: 20 },
    );
  });

  it("of another layout, damaged, or no state at all is refused with a sentence", () => {
    const state = makeScreening(plan).saveState();
    const other = state.slice();
    other[4] = 99;
    const damaged = state.slice();
    damaged[40] = damaged[40]! ^ 1;
    expect(() => makeScreening({ ...plan, state: other })).toThrow(/layout 99.*from its beginning/);
    expect(() => makeScreening({ ...plan, state: damaged })).toThrow(/damaged/);
    expect(() => makeScreening({ ...plan, state: state.subarray(0, 100) })).toThrow(UnreadableState);
    expect(() => makeScreening({ ...plan, state: new TextEncoder().encode("at,outlet,watts") })).toThrow(/no kept screening state/);
  });
});

const heater = appliance("120V~ 60Hz 1500W", "space heater");
const hot = (from: number, to: number) => rows(from, to, () => ({ watts: 2000 }));

function goOn(input: ScreeningInput, log: readonly Reading[], state?: Uint8Array) {
  const screening = makeScreening({ ...input, state });
  for (const reading of log) screening.take(reading);
  return screening;
}

describe("results taken on the way", () => {
  const input = { outlets: [outlet()], appliances: [heater] };

  it("are settled once, and an excess that goes on is open, longer each time, with one identity", () => {
    const first = goOn(input, hot(0, 2 * minutes));
    const early = first.takeResults();
    expect([early.settled.length, early.open.length]).toEqual([0, 1]);
    for (const reading of hot(2 * minutes, 4 * minutes)) first.take(reading);
    const later = first.takeResults();
    expect(later.open[0]!.toMs).toBeGreaterThan(early.open[0]!.toMs);
    expect(resultIdentity(later.open[0]!)).toBe(resultIdentity(early.open[0]!));
    for (const reading of rows(4 * minutes, 8 * minutes, () => ({ watts: 100 }))) first.take(reading);
    const settled = first.takeResults();
    expect([settled.settled.length, settled.open.length]).toEqual([1, 0]);
    expect(resultIdentity(settled.settled[0]!)).toBe(resultIdentity(early.open[0]!));
    expect(first.takeResults()).toEqual({ settled: [], open: [] });
    expect(first.finish().results).toEqual([]);
  });
});

describe("a condition of the supply", () => {
  const line = (volts: number, from: number, to: number) => rows(from, to, () => ({ volts }), 5 * seconds);

  it("is open while it may be joined, then settled once, and is not told again at the end", () => {
    const screening = goOn({ outlets: [outlet()], appliances: [] }, [...line(130, 0, 5 * minutes), ...line(120, 5 * minutes, 7 * minutes)]);
    const early = screening.takeResults();
    expect([early.settled, early.open.map(({ kind }) => kind)]).toEqual([[], ["high_voltage"]]);
    for (const reading of line(120, 7 * minutes, 12 * minutes)) screening.take(reading);
    const later = screening.takeResults();
    expect([later.settled.map(resultIdentity), later.open]).toEqual([early.open.map(resultIdentity), []]);
    expect(screening.finish().results).toEqual([]);
  });
});

describe("a plan that changed while the screening was stopped", () => {
  const input = { outlets: [outlet(), outlet({ outlet: "O2" })], appliances: [heater] };
  const begun = (log: readonly Reading[]) => goOn(input, log).saveState();

  it("lacks an outlet: its rows that wait are gone with it, the others go on", () => {
    const log = [...hot(0, minutes), ...rows(0, minutes, () => ({ outlet: "O2", watts: 5 }))].sort((a, b) => a.atMs - b.atMs);
    const changed = { ...input, outlets: [outlet()] };
    const found = goOn(changed, hot(minutes, 2 * minutes), begun(log)).finish();
    expect(found.results.map(({ fromMs, toMs }) => [fromMs - noon, toMs - noon])).toEqual([[0, 119 * seconds]]);
  });

  it("has the appliance recorded elsewhere: it is judged there from then on", () => {
    const moved = { ...heater, outlet: "O2" };
    const log = rows(2 * minutes, 3 * minutes, () => ({ outlet: "O2", watts: 2000 }));
    const found = goOn({ ...input, appliances: [moved] }, log, begun(rows(0, minutes, () => ({ watts: 100 })))).finish();
    expect(found.results.map(({ kind, outlet: at }) => [kind, at])).toEqual([["over_rating", "O2"]]);
  });

  it("has a new rating for the appliance: it is judged by that", () => {
    const stronger = appliance("120V~ 60Hz 2400W", "space heater");
    const found = goOn(
      { ...input, appliances: [stronger] },
      hot(minutes, 2 * minutes),
      begun(rows(0, minutes, () => ({ watts: 100 }))),
    ).finish();
    expect(found.results).toEqual([]);
  });

  it("has a new appliance: it does not push out the one whose tag was seen there", () => {
    const log = rows(0, minutes, () => ({ tag: "T1", watts: 100 }));
    const added = appliance("120V 100W", "fan", { tag: "T2" });
    const found = goOn({ ...input, appliances: [heater, added] }, hot(minutes, 2 * minutes), begun(log)).finish();
    expect(found.results.map(({ tag }) => tag)).toEqual(["T1"]);
  });
});

it("A trip of long ago is remembered across a stop", () => {
  const trips = [0, 10, 20].map((day) => row(day * days, { event: "trip" }));
  const input = { outlets: [outlet()], appliances: [] };
  const kept = goOn(input, trips.slice(0, 2)).saveState();
  expect(goOn(input, trips.slice(2), kept).finish().results).toEqual(screen(trips).results);
});
