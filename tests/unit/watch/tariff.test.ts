import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { kilowattHours } from "@/lib/watch/energy-sum";
import { costOf, type Tariff } from "@/lib/watch/tariff";
import { limitPassed, type UseLimit } from "@/lib/watch/use-limit";
import { energyRow, hourMs } from "../../support/energy-rows";

const zone = "America/Chicago";
/** Midnight in Chicago, a Monday. */
const monday = Date.parse("2026-03-02T06:00:00Z");
const day = (watts: number, at = monday) => Array.from({ length: 24 }, (_, hour) => energyRow(at + hour * hourMs, watts));

const flat: Tariff = { id: "f", name: "Flat", currency: "USD", validFrom: "2026-01-01", validTo: null, prices: { base: 0.2, windows: [] } };
const timed: Tariff = {
  ...flat,
  id: "t",
  name: "Evening",
  prices: {
    base: 0.1,
    windows: [
      { name: "peak", price: 0.4, days: "Monday to Friday", fromHour: 17, toHour: 21 },
      { name: "night", price: 0.05, days: "every day", fromHour: 22, toHour: 6 },
    ],
  },
};

describe("what energy costs", () => {
  it("kWh x price: 1.5 kW for a day at 0.20 is 36 kWh, 7.20", () => {
    const cost = costOf(day(1500), [flat], zone);
    expect(cost.totals).toEqual([{ currency: "USD", cost: expect.closeTo(7.2, 9) }]);
  });

  it("by the hours of the site's clock: 4 h peak, 8 h night, 12 h base at 1 kW", () => {
    const cost = costOf(day(1000), [timed], zone);
    const hours = Object.fromEntries(cost.lines.map(({ window, microjoules }) => [window, kilowattHours(microjoules)]));
    expect(hours).toEqual({ night: 8, base: 12, peak: 4 });
    expect(cost.totals[0]?.cost).toBeCloseTo(4 * 0.4 + 8 * 0.05 + 12 * 0.1, 9);
  });

  it("has no weekday peak at the weekend", () => {
    const cost = costOf(day(1000, monday + 5 * 24 * hourMs), [timed], zone);
    expect(cost.lines.map(({ window }) => window).sort()).toEqual(["base", "night"]);
  });

  it("by the tariff that was valid on the day, and says what none covers", () => {
    const old = { ...flat, id: "o", validFrom: "2025-01-01", validTo: "2026-03-01", prices: { base: 1, windows: [] } };
    const later = { ...flat, validFrom: "2026-03-03" };
    const cost = costOf([...day(1000, monday - 24 * hourMs), ...day(1000), ...day(1000, monday + 24 * hourMs)], [old, later], zone);
    expect(kilowattHours(cost.unpriced)).toBe(24);
    expect(cost.totals[0]?.cost).toBeCloseTo(24 * 1 + 24 * 0.2, 9);
  });

  it("prices every microjoule once", () => {
    const rows = fc.array(fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 9000 })), { maxLength: 50 });
    fc.assert(
      fc.property(rows, (pairs) => {
        const hours = pairs.map(([hour, watts]) => energyRow(monday + hour * hourMs, watts));
        const cost = costOf(hours, [{ ...timed, validTo: "2026-03-10" }], zone);
        const priced = cost.lines.reduce((sum, { microjoules }) => sum + microjoules, cost.unpriced);
        expect(priced).toBe(hours.reduce((sum, { microjoules }) => sum + microjoules, 0n));
      }),
    );
  });
});

describe("a use limit", () => {
  const limit: UseLimit = { kilowattHours: 10, fromHour: 0, toHour: 24, days: "every day", validFrom: "2026-01-01" };

  it("is passed on the days that are above it, and not on a day that just reaches it", () => {
    const rows = [...day(500), ...day(1000, monday + 24 * hourMs).slice(0, 10)];
    expect(limitPassed(limit, rows, zone)).toEqual([
      { day: "2026-03-02", kilowattHours: 12, limit: 10, fromMs: monday, toMs: monday + 24 * hourMs, gapMs: 0 },
    ]);
  });

  it("of some hours counts only those; the night belongs to the day on which it began", () => {
    const night = { ...limit, kilowattHours: 3, fromHour: 22, toHour: 6 };
    const found = limitPassed(night, [...day(500), ...day(500, monday + 24 * hourMs)], zone);
    expect(found.map((one) => [one.day, one.kilowattHours])).toEqual([["2026-03-02", 4]]);
  });

  it("of weekdays leaves the weekend alone, and begins with its first day", () => {
    const weekdays = { ...limit, days: "Monday to Friday" as const };
    expect(limitPassed(weekdays, day(5000, monday - 24 * hourMs), zone)).toEqual([]);
    expect(limitPassed({ ...limit, validFrom: "2026-03-03" }, day(5000), zone)).toEqual([]);
  });

  it("tells the time without readings, because the true use can only be higher", () => {
    const rows = day(2000).map((row) => energyRow(row.atMs, 2000, { measuredMs: hourMs / 2 }));
    expect(limitPassed(limit, rows, zone)[0]).toMatchObject({ kilowattHours: 24, gapMs: 12 * hourMs });
  });
});
