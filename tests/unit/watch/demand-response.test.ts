import { describe, expect, it } from "vitest";
import { type DemandMethod, demandAnswer, isWholeHours } from "@/lib/watch/demand-response";
import { energyRow, hourMs } from "../../support/energy-rows";

const zone = "America/Chicago";
/** Wednesday, 18 March 2026, 17:00 in Chicago (summer time since the 8th). */
const fromMs = Date.parse("2026-03-18T22:00:00Z");
const event = { fromMs, toMs: fromMs + 2 * hourMs };
const method: DemandMethod = { similarDays: 5, lookBackDays: 45, zone, otherEvents: [] };
const dayMs = 24 * hourMs;
/** The event's two hours on the day `back` days before, at this power, by the wall clock. */
const hoursOf = (back: number, watts: number, part = {}) => {
  const shift = fromMs - back * dayMs + (back >= 10 ? hourMs : 0);
  return [energyRow(shift, watts, part), energyRow(shift + hourMs, watts, part)];
};

describe("a demand response event", () => {
  const usual = [1, 2, 5, 6, 7].flatMap((back, i) => hoursOf(back, 1000 + 100 * i));

  it("is compared with the mean of the same hours on the last similar days: 2.4 kWh of 2.0 to 2.8, 0.6 used, 1.8 saved", () => {
    const answer = demandAnswer([...hoursOf(0, 300), ...usual], event, method);
    expect(answer.days.map(({ day }) => day)).toEqual(["2026-03-17", "2026-03-16", "2026-03-13", "2026-03-12", "2026-03-11"]);
    expect(answer.baseline).toBeCloseTo(2.4, 9);
    expect(answer).toMatchObject({ kilowattHours: 0.6, lowest: 2, highest: 2.8, isClear: true, measuredShare: 1 });
    expect(answer.saved).toBeCloseTo(1.8, 9);
  });

  it("leaves weekends, other events and hardly measured days out", () => {
    const weekend = [3, 4].flatMap((back) => hoursOf(back, 9000));
    const bare = hoursOf(8, 9000, { measuredMs: hourMs / 2 });
    const other = { fromMs: fromMs - dayMs, toMs: fromMs - dayMs + hourMs };
    const answer = demandAnswer([...hoursOf(0, 300), ...usual, ...weekend, ...bare], event, { ...method, otherEvents: [other] });
    expect(answer.days.map(({ day }) => day)).toEqual(["2026-03-16", "2026-03-13", "2026-03-12", "2026-03-11"]);
  });

  it("keeps the wall clock over a clock change", () => {
    const answer = demandAnswer([...hoursOf(0, 300), ...hoursOf(14, 1000)], event, method);
    expect(answer.days).toEqual([{ day: "2026-03-04", kilowattHours: 2 }]);
  });

  it("claims nothing without a similar day", () => {
    expect(demandAnswer(hoursOf(0, 300), event, method)).toMatchObject({ baseline: null, saved: null, isClear: false, days: [] });
  });

  it("is whole hours of the site's clock, one to 24", () => {
    expect(isWholeHours(event, zone)).toBe(true);
    expect(isWholeHours({ fromMs: fromMs + 60_000, toMs: event.toMs + 60_000 }, zone)).toBe(false);
    expect(isWholeHours({ fromMs, toMs: fromMs }, zone)).toBe(false);
    expect(isWholeHours({ fromMs, toMs: fromMs + 25 * hourMs }, zone)).toBe(false);
  });
});
