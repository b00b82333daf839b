import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findingCauses, findingKey, isFindingCause } from "@/lib/casework/cause";
import { cautionFor } from "@/lib/casework/cautions";
import { type PlacedResult, screeningFindings } from "@/lib/casework/screening-finding";
import { strongerWord } from "@/lib/casework/signal-word";
import type { ScreeningResult } from "@/lib/watch/screening-result";

const at = (minutes: number) => Date.parse("2026-03-02T18:00:00Z") + minutes * 60_000;

function placed(change: Partial<ScreeningResult> = {}, ids: Partial<Omit<PlacedResult, "result">> = {}): PlacedResult {
  const result: ScreeningResult = {
    kind: "over_rating",
    site: "Alder House",
    circuit: null,
    outlet: "A-1-1",
    receptacle: "1",
    tag: "K7",
    fromMs: at(0),
    toMs: at(54),
    value: 1742,
    limit: 1575,
    unit: "W",
    ratio: 1.106,
    signalWord: "WARNING",
    reasons: ["Drew too much."],
    ...change,
  };
  return { result, siteId: "s1", circuitId: null, outletId: "o1", applianceId: "a1", ...ids };
}

describe("From screening results to findings", () => {
  test("two episodes of one appliance are one finding: the worst in its sentence, the latest in its times, the strongest word", () => {
    const findings = screeningFindings([
      placed({ value: 1700, ratio: 1.079, fromMs: at(100), toMs: at(130) }),
      placed({ signalWord: "DANGER", value: 2000, ratio: 1.27 }),
    ]);
    expect(findings).toMatchObject([
      {
        key: "over_rating:appliance:a1",
        signalWord: "DANGER",
        sentence: "Above its rating: 2000 W seen, 1575 W allowed, for 54 min.",
        timesSeen: 2,
        evidence: { seen: { value: 2000, limit: 1575, unit: "W" }, toAt: "2026-03-02T20:10:00.000Z" },
      },
    ]);
  });

  const things: readonly [Partial<ScreeningResult>, Partial<Omit<PlacedResult, "result">>, string][] = [
    [{}, {}, "over_rating:appliance:a1"],
    [{ kind: "outlet_overload" }, { applianceId: null }, "outlet_overload:outlet:o1"],
    [{ kind: "circuit_overload" }, { applianceId: null, outletId: null, circuitId: "c1" }, "circuit_overload:circuit:c1"],
    [{ kind: "lost_neutral" }, { applianceId: null, outletId: null }, "lost_neutral:site:s1"],
  ];
  test.each(things)("the narrowest thing that %j names is what the finding is about", (change, ids, key) => {
    expect(screeningFindings([placed(change, ids)])[0]?.key).toBe(key);
  });

  test("trips are counted, not measured; the worst low voltage is the lowest", () => {
    const trips = placed({ kind: "repeated_trips", value: 4, limit: 3, unit: "trips", ratio: 1.333, toMs: at(11 * 1440) });
    expect(screeningFindings([trips])[0]?.sentence).toBe("Repeated trips: 4 of its own in 11 days.");
    const site = { applianceId: null, outletId: null };
    const low = [101, 96.5].map((value, i) =>
      placed({ kind: "low_voltage", value, limit: 104, unit: "V", ratio: value / 104, fromMs: at(i), toMs: at(i + 5) }, site),
    );
    expect(screeningFindings(low)[0]?.sentence).toBe("Low voltage: 96.5 V seen, 104 V lower limit, for 5 min.");
  });

  test("the order of the results does not matter, none is lost, and the word is the strongest of its group", () => {
    const some = fc.record({
      ratio: fc.integer({ min: 101, max: 200 }).map((n) => n / 100),
      from: fc.integer({ min: 0, max: 5000 }),
      signalWord: fc.constantFrom("DANGER", "WARNING", "CAUTION", "NOTICE"),
      applianceId: fc.constantFrom("a1", "a2", "a3"),
    });
    const results = fc.uniqueArray(some, {
      selector: ({ ratio, from, applianceId }) => `${ratio} ${from} ${applianceId}`,
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(
        results.chain((rows) => fc.tuple(fc.constant(rows), fc.shuffledSubarray(rows, { minLength: rows.length }))),
        ([rows, shuffled]) => {
          const build = (list: typeof rows) =>
            list.map(({ ratio, from, signalWord, applianceId }) =>
              placed({ ratio, value: 1575 * ratio, fromMs: at(from), toMs: at(from + 3), signalWord }, { applianceId }),
            );
          const findings = screeningFindings(build(rows));
          expect(screeningFindings(build(shuffled))).toEqual(findings);
          expect(findings.reduce((sum, { timesSeen }) => sum + timesSeen, 0)).toBe(rows.length);
          for (const finding of findings) {
            const words = rows.filter(({ applianceId }) => applianceId === finding.applianceId).map(({ signalWord }) => signalWord);
            expect(finding.signalWord).toBe(words.reduce(strongerWord));
          }
        },
      ),
    );
  });
});

describe("Cautions", () => {
  test("every cause has one that says what to do first; wiring and trips defer to the electrician and to local rules", () => {
    for (const cause of findingCauses) {
      const { first, more } = cautionFor({ cause, state: "open", hasAppliance: true });
      expect(first.length).toBeGreaterThan(20);
      const all = [first, ...more].join(" ");
      // No softening words, and a larger breaker only where it is forbidden.
      expect(all).not.toMatch(/voluntary|precautionary/i);
      if (/larger/.test(all)) expect(all).toMatch(/never fit a larger/i);
    }
    for (const cause of ["repeated_trips", "outlet_overload", "circuit_overload", "lost_neutral"] as const) {
      const all = Object.values(cautionFor({ cause, state: "open", hasAppliance: false }))
        .flat()
        .join(" ");
      expect(all).toMatch(/electrician/);
      expect(all).toMatch(/Local codes, the authority having jurisdiction/);
    }
    expect(
      Object.values(cautionFor({ cause: "repeated_trips", state: "open", hasAppliance: true }))
        .flat()
        .join(" "),
    ).toMatch(/again and again, and never fit a larger breaker/);
  });

  test("unplugging is asked for only where the plug is cool and dry", () => {
    for (const cause of ["recall", "over_rating"] as const) {
      const { first, more } = cautionFor({ cause, state: "open", hasAppliance: true });
      expect(first).toMatch(/if the plug is cool and dry/);
      expect(more.join(" ")).toMatch(/smokes or is too hot to touch, leave it/);
      expect(more.join(" ")).toMatch(/Medical or life-safety equipment/);
    }
  });

  test("what is out of use is kept out of use", () => {
    expect(cautionFor({ cause: "recall", state: "out_of_use", hasAppliance: true }).first).toBe("Keep it out of use.");
  });
});

describe("Keys of findings", () => {
  test("name cause and thing, a recall's also its notice", () => {
    expect(findingKey("drift", "appliance", "a1")).toBe("drift:appliance:a1");
    expect(findingKey("recall", "appliance", "a1", "n1")).toBe("recall:n1:appliance:a1");
    expect(isFindingCause("recall")).toBe(true);
    expect(isFindingCause("constructor")).toBe(false);
  });
});
