import { describe, expect, it } from "vitest";
import { planReconnection, type ReconnectionCircuit } from "@/lib/watch/reconnection";
import type { ReconnectionLoad } from "@/lib/watch/reconnection-load";
import { legVerdict, type ServiceCircuit, sumLegs } from "@/lib/watch/reconnection-service";

const device: ReconnectionCircuit = { deviceAmps: 20, standard: "UL 489", band: "UL 489", continuousShare: 0.8, seed: 3 };
const load = (tag: string, runningAmps: number, part: Partial<ReconnectionLoad> = {}): ReconnectionLoad => ({
  ...{ id: tag, tag, outlet: tag, receptacle: "1", kind: "heating", keepsCold: false, seenPeakAmps: null, barred: null },
  runningAmps,
  ...part,
});
const circuit = (leg: string | null, loads: readonly ReconnectionLoad[], isAcross = false): ServiceCircuit => ({
  leg,
  isAcross,
  plan: planReconnection(device, loads),
});

describe("the legs of a service", () => {
  it("carry the circuits that hang on them, one across both on each, and those of no known leg apart", () => {
    const sums = sumLegs([
      circuit("1", [load("A", 10)]),
      circuit("1", [load("B", 5)]),
      circuit("2", [load("C", 4)]),
      circuit("2", [load("D", 12)], true),
      circuit(null, [load("E", 3)]),
      circuit("2", []),
    ]);
    expect(sums.map(({ leg, circuits, runningAmps }) => [leg, circuits, runningAmps])).toEqual([
      ["1", 3, 27],
      ["2", 2, 16],
      [null, 1, 3],
    ]);
  });

  it("see every start at once when all plans begin together, and one at a time in turn", () => {
    const motors = ["A", "B", "C"].map((tag) => circuit("1", [load(tag, 2, { kind: "motor" })]));
    const [sum] = sumLegs(motors);
    expect(sum).toMatchObject({ runningAmps: 6, atOncePeak: 48, inTurnPeak: 2 + 2 + 16 });
  });

  it("of circuits across both only are two", () => {
    expect(sumLegs([circuit(null, [load("A", 10)], true)]).map(({ leg, runningAmps }) => [leg, runningAmps])).toEqual([
      ["1", 10],
      ["2", 10],
    ]);
    expect(sumLegs([])).toEqual([]);
  });

  it.each([
    [101, 101, "too much"],
    [85, 90, "continuous"],
    [60, 140, "in turn"],
    [60, 90, "fits"],
  ] as const)("running at %d A with starts of %d A on a 100 A service: %s", (runningAmps, atOncePeak, verdict) => {
    expect(legVerdict({ leg: "1", circuits: 2, runningAmps, atOncePeak, inTurnPeak: 0 }, 100, 0.8)).toBe(verdict);
  });
});
