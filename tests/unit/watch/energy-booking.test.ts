import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bookReceptacle, type EnergyBooking, type EnergySample, milliwattsOf } from "@/lib/watch/energy-booking";
import { holderTimeline } from "@/lib/watch/energy-holder";
import { hourMs, isDayOf, isHourIn, localDay, localHour, makeHourOf } from "@/lib/watch/energy-hour";
import { kilowattHours, microjoulesPerKilowattHour } from "@/lib/watch/energy-sum";

const holdMs = 60_000;
const start = Date.parse("2026-03-02T10:00:00Z");
const utcHour = makeHourOf("UTC");

function every(seconds: number, count: number, watts: number, holder: string | null = null): EnergySample[] {
  return Array.from({ length: count }, (_, i) => ({ atMs: start + i * seconds * 1000, milliwatts: watts * 1000, holder }));
}

const book = (samples: readonly EnergySample[], timeline = holderTimeline([]), hours = 1) =>
  bookReceptacle({ samples, timeline, fromMs: start, toMs: start + hours * hourMs, holdMs, hourOf: utcHour });

const total = (bookings: readonly EnergyBooking[]) => bookings.reduce((sum, { microjoules }) => sum + microjoules, 0);

describe("energy of constant power", () => {
  it("is P x t: 1000 W over an hour is 1 kWh, which is 3.6 MJ (ISO 80000-5; IEC 62053-21 counts in kWh)", () => {
    const [hour] = book(every(10, 360, 1000));
    expect(hour?.microjoules).toBe(3_600_000 * 1_000_000);
    expect(kilowattHours(BigInt(hour?.microjoules ?? 0))).toBe(1);
    expect(kilowattHours(microjoulesPerKilowattHour)).toBe(1);
  });

  it.each([
    [60, 360, 0.06],
    [1500, 360, 1.5],
    [1500, 180, 0.75],
  ])("%d W read every 10 s, %d times: %d kWh", (watts, count, kwh) => {
    const rows =
      count === 360 ? every(10, count, watts) : [...every(10, count, watts), { atMs: start + count * 10_000, milliwatts: 0, holder: null }];
    expect(kilowattHours(BigInt(total(book(rows))))).toBeCloseTo(kwh, 9);
  });
});

describe("gaps", () => {
  it("are counted and never filled in: a reading holds 60 s at most", () => {
    const [hour] = book(every(600, 2, 600));
    expect(hour).toMatchObject({ measuredMs: 2 * holdMs, gapMs: hourMs - 2 * holdMs, microjoules: 2 * holdMs * 600_000 });
  });

  it("an hour without any reading is not booked", () => {
    expect(book(every(10, 3, 600), holderTimeline([]), 3).map(({ hourMs: at }) => at)).toEqual([start]);
  });

  it("the hold of the last reading before the hour reaches into it", () => {
    const [hour] = book([{ atMs: start - 20_000, milliwatts: 900_000, holder: null }]);
    expect(hour).toMatchObject({ measuredMs: 40_000, microjoules: 40_000 * 900_000 });
  });
});

describe("who used it", () => {
  it("whoever is recorded at the time, split where one follows the other", () => {
    const timeline = holderTimeline([
      { holder: "kettle", fromMs: start, toMs: start + hourMs / 2 },
      { holder: "iron", fromMs: start + hourMs / 2 + 60_000, toMs: null },
    ]);
    const booked = book(every(10, 360, 100), timeline);
    expect(Object.fromEntries(booked.map(({ holder, measuredMs }) => [holder, measuredMs]))).toEqual({
      kettle: hourMs / 2,
      "": 60_000,
      iron: hourMs / 2 - 60_000,
    });
  });

  it("the row's own tag goes before the record", () => {
    const booked = book(every(10, 360, 100, "lamp"), holderTimeline([{ holder: "kettle", fromMs: 0, toMs: null }]));
    expect(booked.map(({ holder }) => holder)).toEqual(["lamp"]);
  });

  it("the last to come holds the receptacle, and the one before does not come back by itself", () => {
    expect(
      holderTimeline([
        { holder: "b", fromMs: 100, toMs: 200 },
        { holder: "a", fromMs: 0, toMs: null },
      ]),
    ).toEqual([
      { fromMs: 0, holder: "a" },
      { fromMs: 100, holder: "b" },
      { fromMs: 200, holder: "" },
    ]);
  });
});

describe("any readings and placements", () => {
  const sample = fc.record({
    atMs: fc.integer({ min: start - 2 * holdMs, max: start + 3 * hourMs }),
    milliwatts: fc.integer({ min: 0, max: 20_000_000 }),
    holder: fc.constantFrom(null, null, null, "t"),
  });
  const stay = fc
    .record({
      holder: fc.constantFrom("a", "b", "c"),
      fromMs: fc.integer({ min: start - hourMs, max: start + 3 * hourMs }),
      length: fc.option(fc.integer({ min: 1, max: hourMs })),
    })
    .map(({ holder, fromMs, length }) => ({ holder, fromMs, toMs: length === null ? null : fromMs + length }));

  it("reconcile exactly: all holders together are what the receptacle used, to the last microjoule, and every hour is full", () => {
    fc.assert(
      fc.property(fc.array(sample, { maxLength: 60 }), fc.array(stay, { maxLength: 6 }), (samples, stays) => {
        const known = book(samples, holderTimeline(stays), 3);
        const nobody = book(
          samples.map((row) => ({ ...row, holder: null })),
          holderTimeline([]),
          3,
        );
        expect(total(known)).toBe(total(nobody));
        for (const hour of new Set(known.map(({ hourMs: at }) => at))) {
          const rows = known.filter(({ hourMs: at }) => at === hour);
          expect(rows.reduce((sum, row) => sum + row.measuredMs + row.gapMs, 0)).toBe(hourMs);
        }
      }),
    );
  });

  it("do not depend on the order in which distinct instants come, nor on the number of hours booked at once", () => {
    const distinct = fc.uniqueArray(sample, { maxLength: 40, selector: ({ atMs }) => atMs });
    fc.assert(
      fc.property(distinct, fc.array(stay, { maxLength: 4 }), (samples, stays) => {
        const timeline = holderTimeline(stays);
        const sorted = (rows: readonly EnergyBooking[]) => [...rows].sort((a, b) => a.hourMs - b.hourMs || (a.holder < b.holder ? -1 : 1));
        const once = sorted(book(samples, timeline, 3));
        expect(sorted(book([...samples].reverse(), holderTimeline([...stays].reverse()), 3))).toEqual(once);
        const apart = [0, 1, 2].flatMap((hour) => {
          const fromMs = start + hour * hourMs;
          return bookReceptacle({ samples, timeline, fromMs, toMs: fromMs + hourMs, holdMs, hourOf: utcHour });
        });
        expect(sorted(apart)).toEqual(once);
      }),
    );
  });
});

describe("the power of a row", () => {
  const none = { watts: null, amps: null, volts: null, powerFactor: null, event: null };
  it.each([
    [{ ...none, watts: 12.3456 }, 12_346],
    [{ ...none, amps: 5, volts: 120, powerFactor: 0.5 }, 300_000],
    [{ ...none, amps: 5, volts: 120 }, null],
    [{ ...none, amps: 5, volts: 120, powerFactor: 95 }, null],
    [{ ...none, watts: 900, event: "off" as const }, 0],
    [{ ...none, event: "trip" as const }, 0],
    [{ ...none, event: "on" as const }, null],
    [{ ...none, watts: -4 }, null],
    [{ ...none, watts: Number.NaN }, null],
  ])("%j is %s mW", (row, expected) => {
    expect(milliwattsOf(row)).toBe(expected);
  });
});

describe("the hours of a zone's clock", () => {
  it("begin at its full hours, also half an hour off", () => {
    const at = Date.parse("2026-03-02T10:10:00Z");
    expect(new Date(makeHourOf("Asia/Kolkata")(at)).toISOString()).toBe("2026-03-02T09:30:00.000Z");
    expect(new Date(makeHourOf("America/Chicago")(at)).toISOString()).toBe("2026-03-02T10:00:00.000Z");
  });

  it("make 23 of the day that the clocks go forward and 25 of the day that they go back (America/Chicago, 2026)", () => {
    const hoursOf = (day: string) => {
      const from = Date.parse(`${day}T00:00:00Z`);
      const hours = Array.from({ length: 60 }, (_, i) => from + i * hourMs);
      return hours.filter((at) => localDay("America/Chicago", at) === day).length;
    };
    expect([hoursOf("2026-03-08"), hoursOf("2026-11-01"), hoursOf("2026-06-01")]).toEqual([23, 25, 24]);
  });

  it("know weekends and stretches over midnight", () => {
    expect(localHour("America/Chicago", Date.parse("2026-03-01T05:30:00Z"))).toEqual({ hour: 23, weekday: 6 });
    expect([isDayOf("Saturday and Sunday", 6), isDayOf("Monday to Friday", 6), isDayOf("every day", 6)]).toEqual([true, false, true]);
    expect([isHourIn(23, 22, 6), isHourIn(5, 22, 6), isHourIn(6, 22, 6), isHourIn(0, 0, 24)]).toEqual([true, true, false, true]);
  });
});
