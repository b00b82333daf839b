import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Sighting } from "@/lib/registry/observation";
import { makeSightingSeries } from "@/lib/registry/observation-series";
import { type PlacePoint, staysOf, thinSightings, withoutContradicted } from "@/lib/registry/placement-history";

const startMs = Date.parse("2026-03-09T12:00:00Z");
const sighting = (second: number, outlet: string): Sighting => ({
  tag: "K7-HEAT",
  outlet,
  receptacle: "1",
  at: new Date(startMs + second * 1000),
});

/** The ids run against the names, so that a rule by ids would show. */
const idOf = (outlet: string) => `id ${9 - Number(outlet.slice(1))}`;
function pointOf({ outlet, receptacle, at }: Sighting): PlacePoint {
  const place = { siteId: "s", unitId: null, outletId: idOf(outlet), receptacle };
  return { kind: "seen", atMs: at.getTime(), place, outletName: outlet, source: "log" };
}

/** The history that parts of a log leave: each part is thinned by the series that goes on, and its points join those kept before. */
function historyOf(parts: readonly (readonly Sighting[])[]): (readonly [string | null, number, number | null])[] {
  let kept: PlacePoint[] = [];
  let series = makeSightingSeries();
  const join = (sightings: readonly Sighting[]) => {
    kept = thinSightings(withoutContradicted([...kept, ...sightings.map(pointOf)]));
  };
  for (const part of parts) {
    for (const row of part) series.take(row);
    join(series.drain());
    series = makeSightingSeries(series.running());
  }
  join(series.finish());
  const second = (ms: number) => (ms - startMs) / 1000;
  return staysOf(null, kept).map(({ place, fromMs, toMs }) => [place.outletId, second(fromMs), toMs === null ? null : second(toMs)]);
}

const spread = (from: number, to: number, outlet: string) => Array.from({ length: to - from }, (_, i) => sighting(from + i, outlet));

describe("the sightings of a tag in a log", () => {
  it("are told at the first and last of an unbroken series, and once a day between", () => {
    const series = makeSightingSeries();
    const hour = 3600;
    for (let at = 0; at <= 50; at++) series.take(sighting(at * hour, "O1"));
    expect(series.finish().map(({ at }) => (at.getTime() - startMs) / 1000 / hour)).toEqual([0, 23, 24, 47, 48, 50]);
  });

  it("show that an appliance came back, however soon it is the next hour", () => {
    const hour = 3600;
    const there = [...spread(0, 100, "O1"), ...spread(100, 200, "O2"), ...spread(hour, hour + 100, "O1")];
    expect(historyOf([there])).toEqual([
      [idOf("O1"), 0, 100],
      [idOf("O2"), 100, hour],
      [idOf("O1"), hour, null],
    ]);
  });

  it("at two outlets at one instant are at the first by name, the whole time and not for one row", () => {
    const both = Array.from({ length: 50 }, (_, i) => [sighting(100 + i, "O2"), sighting(100 + i, "O1")]).flat();
    const rows = [...spread(0, 100, "O1"), ...both, ...spread(150, 200, "O1")];
    expect(historyOf([rows])).toEqual([[idOf("O1"), 0, null]]);
  });

  it("leave one history whichever row of an instant comes first and wherever the parts end", () => {
    const instants = fc.array(fc.subarray(["O1", "O2", "O3"], { minLength: 1 }), { minLength: 1, maxLength: 40 });
    const arrivals = instants.chain((seen) =>
      fc.tuple(
        fc.constant(seen),
        fc.tuple(...seen.map((names) => fc.shuffledSubarray([...names], { minLength: names.length }))),
        fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 1, maxLength: 12 }),
      ),
    );
    const rowsOf = (order: readonly (readonly string[])[]) =>
      // Each instant is an hour of its own, so that no sighting is thinned.
      order.flatMap((names, at) => names.map((name) => sighting(at * 3600, name)));
    fc.assert(
      fc.property(arrivals, ([seen, other, sizes]) => {
        const rows = rowsOf(other);
        const parts: Sighting[][] = [];
        for (let at = 0, i = 0; at < rows.length; at += sizes[i++ % sizes.length]!)
          parts.push(rows.slice(at, at + sizes[i % sizes.length]!));
        const expected = historyOf([rowsOf(seen.map((names) => names.toSorted()))]);
        expect(historyOf(parts)).toEqual(expected);
        expect(expected.at(-1)?.[0]).toBe(idOf(seen.at(-1)!.toSorted()[0]!));
      }),
    );
  });
});
