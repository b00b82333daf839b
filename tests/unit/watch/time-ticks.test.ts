import { describe, expect, test } from "vitest";
import { timeTicks } from "@/lib/watch/time-ticks";

const zone = "America/Chicago";
const at = (text: string) => Date.parse(text);

describe("Ticks of a time axis", () => {
  test("stand at round hours of the site's own clock, and name the day at midnight", () => {
    const ticks = timeTicks(at("2026-11-23T17:10:00-06:00"), at("2026-11-24T05:10:00-06:00"), zone, 6);
    expect(ticks.map(({ label }) => label)).toEqual(["18:00", "20:00", "22:00", "24 Nov", "02:00", "04:00"]);
  });

  test("over weeks they stand at local midnights, also across the change of the clocks", () => {
    const ticks = timeTicks(at("2026-10-28T00:00:00-05:00"), at("2026-11-05T00:00:00-06:00"), zone, 9);
    expect(ticks.map(({ label }) => label)).toEqual(["28 Oct", "29 Oct", "30 Oct", "31 Oct", "1 Nov", "2 Nov", "3 Nov", "4 Nov", "5 Nov"]);
    expect(ticks[5]!.atMs - ticks[4]!.atMs).toBe(25 * 3_600_000);
  });

  test("are never more than asked for, and never outside the stretch", () => {
    for (const days of [0.02, 0.3, 1, 3, 10, 40, 400, 4000]) {
      const [from, to] = [at("2026-01-05T07:31:00Z"), at("2026-01-05T07:31:00Z") + days * 86_400_000];
      const ticks = timeTicks(from, to, zone, 8);
      expect(ticks.length).toBeLessThanOrEqual(9);
      for (const { atMs } of ticks) expect(atMs >= from && atMs <= to).toBe(true);
    }
  });
});
