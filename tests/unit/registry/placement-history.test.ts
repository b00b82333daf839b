import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hourStart, type Place, type PlacePoint, staysOf, thinSightings } from "@/lib/registry/placement-history";

const at = (outletId: string | null, receptacle: string | null = null): Place => ({ siteId: "s", unitId: null, outletId, receptacle });
const seen = (minute: number, place: Place): PlacePoint => ({ kind: "seen", atMs: minute * 60_000, place, source: "log" });
const said = (minute: number, place: Place, source = "form"): PlacePoint => ({ kind: "said", atMs: minute * 60_000, place, source });
const brief = (points: readonly PlacePoint[]) =>
  staysOf(null, points).map((stay) => [stay.place.outletId, stay.fromMs / 60_000, stay.toMs === null ? null : stay.toMs / 60_000]);

describe("the history of an appliance's places", () => {
  it("lengthens at the same place and moves at another", () => {
    expect(brief([seen(1, at("a")), seen(5, at("a")), seen(9, at("b")), seen(12, at("a"))])).toEqual([
      ["a", 1, 9],
      ["b", 9, 12],
      ["a", 12, null],
    ]);
  });

  it("takes a sighting without a receptacle as proof of the outlet only", () => {
    expect(brief([seen(1, at("a", "1")), seen(2, at("a")), seen(3, at("a", "2"))])).toHaveLength(2);
  });

  it("lets a labels file, which does not say when it was read, stand before what was seen earlier", () => {
    expect(brief([said(100, at("a"), "labels"), seen(50, at("b"))])).toEqual([
      ["a", 50, 50],
      ["b", 50, null],
    ]);
    expect(brief([said(100, at("a"), "labels"), seen(50, at("a"))])).toEqual([["a", 50, null]]);
  });

  it("lets a person's dated statement stand at its date", () => {
    expect(brief([said(100, at("a")), seen(50, at("b"))])).toEqual([
      ["b", 50, 100],
      ["a", 100, null],
    ]);
  });
});

const anyPlace = fc.record({ outletId: fc.constantFrom("a", "b", "c"), receptacle: fc.constantFrom("1", "2", null) });
const anySightings = fc.array(
  fc
    .record({ minute: fc.integer({ min: 0, max: 400 }), place: anyPlace })
    .map(({ minute, place }) => seen(minute, at(place.outletId, place.receptacle))),
  { maxLength: 40 },
);

describe("properties of the history", () => {
  it("does not depend on the order of the points", () => {
    fc.assert(
      fc.property(
        anySightings.chain((points) => fc.tuple(fc.constant(points), fc.shuffledSubarray(points, { minLength: points.length }))),
        ([points, shuffled]) => {
          expect(staysOf(null, thinSightings(shuffled))).toEqual(staysOf(null, thinSightings(points)));
        },
      ),
    );
  });

  it("has no gap, no overlap and no two neighbours at one spot", () => {
    fc.assert(
      fc.property(anySightings, (points) => {
        const stays = staysOf(null, points);
        stays.forEach((stay, i) => {
          const next = stays[i + 1];
          expect(stay.toMs).toBe(next ? next.fromMs : null);
          if (next) expect([next.place.outletId, next.place.receptacle]).not.toEqual([stay.place.outletId, stay.place.receptacle]);
        });
      }),
    );
  });

  it("keeps at most two sightings an hour and receptacle, also when thinned again together with new ones", () => {
    fc.assert(
      fc.property(anySightings, anySightings, (first, second) => {
        const once = thinSightings([...first, ...second]);
        const twice = thinSightings([...thinSightings(first), ...second]);
        const sorted = (points: PlacePoint[]) => points.map((point) => JSON.stringify(point)).sort();
        expect(sorted(twice)).toEqual(sorted(once));
        const perHour = new Map<string, number>();
        for (const { place, atMs } of once) {
          const key = `${place.outletId} ${place.receptacle} ${hourStart(atMs)}`;
          perHour.set(key, (perHour.get(key) ?? 0) + 1);
        }
        for (const count of perHour.values()) expect(count).toBeLessThanOrEqual(2);
      }),
    );
  });

  it("can be taken up from any full hour with the stay that was running then", () => {
    fc.assert(
      fc.property(anySightings, fc.integer({ min: 0, max: 7 }), (points, hour) => {
        const from = hour * 3_600_000;
        const whole = staysOf(null, points);
        const early = whole.filter((stay) => stay.fromMs < from);
        const resumed = staysOf(
          early.at(-1) ?? null,
          points.filter((point) => point.atMs >= from),
        );
        expect([...early.slice(0, -1), ...resumed]).toEqual(whole);
      }),
    );
  });
});
