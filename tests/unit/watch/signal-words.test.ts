import { describe, expect, it } from "vitest";
import { policyOrigins, screeningPolicy } from "@/lib/watch/policy";
import { signalRows, signalWordOf } from "@/lib/watch/signal-words";

const kinds = [
  "over_rating",
  "outlet_overload",
  "circuit_overload",
  "repeated_trips",
  "high_voltage",
  "low_voltage",
  "lost_neutral",
  "lamp_too_strong",
  "drift",
] as const;

describe("signal words (by the definitions of ANSI Z535; which excess is which is the product's own choice)", () => {
  it.each([
    ["lost_neutral", 1, 0, "DANGER"],
    ["over_rating", 1.1, 10, "WARNING"],
    ["over_rating", 1.6, 10, "WARNING"],
    ["over_rating", 1.6, 60, "DANGER"],
    ["over_rating", 1.3, 1800, "DANGER"],
    ["circuit_overload", 1.1, 60, "WARNING"],
    ["repeated_trips", 1, 0, "WARNING"],
    ["high_voltage", 1.02, 120, "CAUTION"],
    ["low_voltage", 1.2, 120, "WARNING"],
    ["drift", 1.01, 0, "NOTICE"],
  ] as const)("%s at %d times its limit for %d s is %s", (kind, ratio, seconds, word) => {
    expect(signalWordOf(kind, ratio, seconds)).toBe(word);
  });

  it("end with a row for every kind that always fits", () => {
    for (const kind of kinds) expect(signalRows.findLast((row) => row.kind === kind)).toMatchObject({ ratio: 0, seconds: 0 });
  });
});

describe("the screening policy", () => {
  it("names an origin for each of its values", () => {
    expect(Object.keys(policyOrigins).sort()).toEqual(Object.keys(screeningPolicy).sort());
    for (const origin of Object.values(policyOrigins)) expect(origin.length).toBeGreaterThan(5);
  });
});
