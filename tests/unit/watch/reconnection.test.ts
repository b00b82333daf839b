import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { deviceModels, heatAfter, tripSeconds } from "@/lib/electrical/device-curve";
import { instantBands } from "@/lib/electrical/device-instant";
import type { LoadKind } from "@/lib/electrical/load-kind";
import { planReconnection, type ReconnectionCircuit, reconnectionWaits } from "@/lib/watch/reconnection";
import { seededWhole } from "@/lib/watch/reconnection-chance";
import { heatOverTime, sumOverTime } from "@/lib/watch/reconnection-curve";
import { keepsCold } from "@/lib/watch/reconnection-inrush";
import { type ReconnectionLoad, startOf } from "@/lib/watch/reconnection-load";

const circuit: ReconnectionCircuit = { deviceAmps: 15, standard: "UL 489", band: "UL 489", continuousShare: 0.8, seed: 7 };
const load = (tag: string, part: Partial<ReconnectionLoad> = {}): ReconnectionLoad => ({
  id: tag,
  tag,
  outlet: `outlet ${tag}`,
  receptacle: "1",
  kind: "heating",
  keepsCold: false,
  runningAmps: 2,
  seenPeakAmps: null,
  barred: null,
  ...part,
});

describe("the order of a reconnection plan", () => {
  it("is cold storage first, then the strongest start", () => {
    const plan = planReconnection(circuit, [
      load("HEAT", { runningAmps: 5 }),
      load("FAN", { kind: "motor", runningAmps: 1 }),
      load("COLD", { kind: "motor", runningAmps: 0.8, keepsCold: true }),
    ]);
    expect(plan.steps.map((step) => step.load.tag)).toEqual(["COLD", "FAN", "HEAT"]);
  });

  it("never connects what is out of use or dangerous, and says so", () => {
    const plan = planReconnection(circuit, [load("A"), load("B", { barred: "It is out of use." })]);
    expect(plan.steps.map((step) => step.load.tag)).toEqual(["A"]);
    expect(plan.barred.map(({ load: { tag }, why }) => [tag, why])).toEqual([["B", "It is out of use."]]);
  });

  it("leaves off what the device would not carry together, and what nobody knows the draw of", () => {
    const plan = planReconnection(circuit, [
      load("BIG", { runningAmps: 10 }),
      load("NEXT", { runningAmps: 6 }),
      load("WHAT", { runningAmps: null }),
    ]);
    expect(plan.steps.map((step) => step.load.tag)).toEqual(["BIG"]);
    expect(plan.left.map(({ load: { tag } }) => tag)).toEqual(["NEXT", "WHAT"]);
    expect(plan.left[0]?.why).toContain("16 A, above its 15 A device");
  });

  it("waits 2 s between the receptacles of an outlet and 15 to 30 s between outlets", () => {
    const pair = [load("A", { outlet: "x" }), load("B", { outlet: "x", receptacle: "2", runningAmps: 1.5 }), load("C", { runningAmps: 1 })];
    const [a, b, c] = planReconnection(circuit, pair).steps.map(({ atSeconds }) => atSeconds);
    expect([a, b]).toEqual([0, 2]);
    expect(c! - b!).toBeGreaterThanOrEqual(15);
    expect(c! - b!).toBeLessThanOrEqual(30);
  });
});

describe("the check against the device's curve", () => {
  it("keeps the model's own trip time: heat reaches k^2 exactly when tripSeconds says so", () => {
    const model = deviceModels["UL 489"];
    const seconds = tripSeconds(model, 1.35);
    const heat = heatOverTime(
      sumOverTime([{ atSeconds: 0, runningAmps: 20.25, startAmps: 20.25, startSeconds: 0, halfCycleAmps: null }], seconds),
      15,
      model,
    );
    expect(heat.at(-1)?.heat).toBeCloseTo(model.k ** 2, 9);
    expect(heatAfter(model, 0, 1, 1e9)).toBeCloseTo(1, 9);
  });

  it("says when together they are above the continuous share (NEC 210.20(A): 80 %)", () => {
    const plan = planReconnection(circuit, [load("A", { runningAmps: 7 }), load("B", { runningAmps: 6 })]);
    expect(plan.remarks.join(" ")).toContain("13 A, above 80 % of the 15 A device");
    expect(plan.lastingShare).toBeCloseTo((13 / 15) ** 2 / 1.21, 9);
  });

  it("says when a start may trip at once: type B holds 3 times its rating (IEC 60898-1, test d)", () => {
    expect([
      instantBands.B.holds,
      instantBands.B.trips,
      instantBands.C.holds,
      instantBands.C.trips,
      instantBands.D.holds,
      instantBands.D.trips,
    ]).toEqual([3, 5, 5, 10, 10, 20]);
    const european: ReconnectionCircuit = { ...circuit, deviceAmps: 16, standard: "IEC 60898-1", band: "B" };
    const motor = [load("M", { kind: "motor", runningAmps: 6.1 })];
    expect(planReconnection(european, motor).remarks.join(" ")).toContain("48.8 A");
    expect(planReconnection({ ...european, band: "C" }, motor).remarks.join(" ")).not.toContain("48.8 A, ");
  });

  it("checks nothing where the device is not known, and says so", () => {
    const plan = planReconnection({ ...circuit, deviceAmps: null }, [load("A", { runningAmps: 40 })]);
    expect(plan).toMatchObject({ heatShare: null, lastingShare: null });
    expect(plan.remarks).toHaveLength(1);
  });
});

describe("a start", () => {
  it("is that of its kind unless a larger one was seen", () => {
    expect(startOf(load("A", { kind: "motor", runningAmps: 2 }))).toMatchObject({ startAmps: 16, startSeconds: 3 });
    expect(startOf(load("A", { runningAmps: 2, seenPeakAmps: 9 }))).toMatchObject({ startAmps: 9, startSeconds: 5 });
    expect(startOf(load("A", { runningAmps: null, seenPeakAmps: 3 }))?.runningAmps).toBe(3);
  });

  it("knows what keeps cold", () => {
    expect([keepsCold("Freezer"), keepsCold("mini fridge"), keepsCold("kettle"), keepsCold(null)]).toEqual([true, true, false, false]);
  });
});

describe("any circuit", () => {
  const kinds: LoadKind[] = ["heating", "combined", "motor", "small_motor", "electronics", "lamp", "unknown"];
  const anyLoad = fc.record({
    kind: fc.constantFrom(...kinds),
    outlet: fc.constantFrom("a", "b", "c", "d"),
    runningAmps: fc.option(fc.double({ min: 0.01, max: 14, noNaN: true })),
    keepsCold: fc.boolean(),
    barred: fc.constantFrom(null, null, null, "out of use"),
  });

  it("gets a plan that is the same for the same seed, accounts for every load once, and stays under its device", () => {
    fc.assert(
      fc.property(fc.array(anyLoad, { maxLength: 12 }), fc.integer({ min: 0, max: 1e9 }), (parts, seed) => {
        const loads = parts.map((part, i) => load(`T${i}`, part));
        const plan = planReconnection({ ...circuit, seed }, loads);
        expect(planReconnection({ ...circuit, seed }, [...loads].reverse())).toEqual(plan);
        const told = [...plan.steps, ...plan.barred, ...plan.left].map((one) => one.load.id);
        expect([...told].sort()).toEqual(loads.map(({ id }) => id).sort());
        expect(plan.runningAmps).toBeLessThanOrEqual(15);
        expect(plan.heatShare).toBeLessThan(1);
        const waits = plan.steps.slice(1).map((step, i) => step.atSeconds - plan.steps[i]!.atSeconds);
        for (const [i, wait] of waits.entries()) {
          const isPair = plan.steps[i]!.load.outlet === plan.steps[i + 1]!.load.outlet;
          if (isPair) expect(wait).toBe(reconnectionWaits.pair);
          else expect(wait >= 15 && wait <= 30).toBe(true);
        }
      }),
    );
  });

  it("draws every wait from 15 to 30, both included", () => {
    const chance = seededWhole(1);
    const seen = new Set(Array.from({ length: 2000 }, () => chance(15, 30)));
    expect([...seen].sort((a, b) => a - b)).toEqual(Array.from({ length: 16 }, (_, n) => 15 + (n % 16)));
  });
});
