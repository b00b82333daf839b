import fc from "fast-check";
import { expect, it } from "vitest";
import { countTrips, type Trip } from "@/lib/watch/trip";
import { judgeTrips } from "@/lib/watch/trip-verdict";

const trip = (second: number, outlet: string, part: Partial<Trip> = {}): Trip => ({
  ...{ atMs: second * 1000, outlet, receptacle: null, tag: null, cause: "unknown", overLimit: false, followsSupply: false },
  ...part,
});

it("each trip is counted or set aside, and the reason says why", () => {
  const judged = judgeTrips(
    [
      trip(0, "O1"),
      trip(100, "O1", { cause: "commanded" }),
      trip(200, "O2", { cause: "supply" }),
      trip(300, "O3", { followsSupply: true }),
      trip(400, "O1", { cause: "fault" }),
      trip(402, "O2"),
      trip(500, "O1"),
      trip(502, "O2"),
      trip(600, "O1", { overLimit: true }),
      trip(601, "O1"),
    ],
    3000,
  );
  expect(judged.map(({ verdict, why }) => [verdict, why])).toEqual([
    ["counted", "A trip of its own."],
    ["commanded", "Commanded or scheduled switching: no fault."],
    ["supply", "The log says that the supply failed."],
    ["supply", "Every outlet that reports saw the supply dip with it."],
    ["counted", "A trip of its own."],
    ["coincident", "Within 3 s of the trip at O1, which is the cause: a neighbour's fault."],
    ["coincident", "Others tripped with it at O2, and none shows the cause: no fault of its own."],
    ["coincident", "Others tripped with it at O1, and none shows the cause: no fault of its own."],
    ["counted", "Its draw was above its own limit just before."],
    ["coincident", "The same outlet tripped more than once within seconds: counted once."],
  ]);
});

it("every trip is told exactly once, and those counted are those that repeated trips are counted from", () => {
  const anyTrip = fc
    .record({
      second: fc.integer({ min: 0, max: 60 }),
      outlet: fc.constantFrom("O1", "O2", "O3"),
      cause: fc.constantFrom("fault", "commanded", "supply", "unknown"),
      overLimit: fc.boolean(),
      followsSupply: fc.boolean(),
    })
    .map(({ second, outlet, ...part }) => trip(second, outlet, part as Partial<Trip>));
  fc.assert(
    fc.property(fc.array(anyTrip, { maxLength: 30 }), (trips) => {
      const judged = judgeTrips(trips, 3000);
      expect(new Set(judged.map((one) => one.trip))).toEqual(new Set(trips));
      expect(judged).toHaveLength(trips.length);
      const counted = judged.filter(({ verdict }) => verdict === "counted").map((one) => one.trip);
      expect(new Set(counted)).toEqual(new Set(countTrips(trips, 3000).own));
    }),
  );
});
