import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import {
  type Extent,
  extentOf,
  labelGapWords,
  noticeGaps,
  outcomeOf,
  type PairStanding,
  type ProofPair,
  proofOutcomeSentences,
  proofOutcomes,
  proofOutcomeWords,
} from "@/lib/matching/negative-proof";

const unread: ApplianceFacts = {
  ...{ id: "a", brand: null, model: null, serial: null, dateCode: null, made: null, category: null, upc: null, labelText: null },
};
const facts = (given: Partial<ApplianceFacts>): ApplianceFacts => ({ ...unread, ...given });
const pair = (standing: PairStanding, given: Partial<ProofPair> = {}): ProofPair => ({
  ...{ standing, grade: "covered", hasIdentifiers: true },
  ...given,
});

describe("how far a label goes", () => {
  it.each<[string, Partial<ApplianceFacts>, Extent, string[]]>([
    ["nothing read", {}, "none", ["label_unread"]],
    ["a kind alone", { category: "heater" }, "none", ["label_unread"]],
    ["a serial alone", { serial: "1200345" }, "none", ["label_unread"]],
    ["a maker alone", { brand: "Keldamar" }, "part", ["no_model"]],
    ["a maker and a model read in part", { brand: "Keldamar", model: "HT-15??" }, "part", ["model_partly_read"]],
    ["a model read in part alone", { model: "HT-15??" }, "none", ["model_partly_read", "no_maker"]],
    ["a model alone", { model: "HT-1500C" }, "part", ["no_maker"]],
    ["a maker and a model", { brand: "Keldamar", model: "HT-1500C" }, "full", []],
    ["a valid UPC alone", { upc: "614141000036" }, "full", []],
    ["a UPC with a wrong check digit", { upc: "614141000037" }, "none", ["label_unread"]],
    ["maker and model on the plate's text only", { labelText: "Keldamar Model: HT-1500C 120V~ 60Hz 1500W", brand: "Keldamar" }, "full", []],
  ])("%s", (_, given, extent, gaps) => {
    expect(extentOf(facts(given))).toEqual({ extent, gaps });
  });

  it("every gap is said in words", () => {
    for (const words of Object.values(labelGapWords)) expect(words).toMatch(/\.$/);
  });
});

describe("what is said of one appliance", () => {
  it.each<[string, Extent, ProofPair[], string]>([
    ["nothing raised, all read", "full", [], "not_found"],
    ["nothing raised, read in part", "part", [], "in_part"],
    ["nothing raised, nothing read", "none", [], "not_checked"],
    ["an undecided match", "full", [pair("open", { grade: "check_label" })], "open"],
    ["a match that a fact rules out", "full", [pair("open", { grade: "not_covered" })], "not_found"],
    ["a maker and kind alone", "full", [pair("open", { hasIdentifiers: false })], "unanswered"],
    ["decided: not affected", "full", [pair("not_affected")], "cleared"],
    ["decided: not affected, but little is read", "part", [pair("not_affected")], "in_part"],
    ["one cleared, one open", "full", [pair("not_affected"), pair("open")], "open"],
    ["one affected, one open", "part", [pair("open"), pair("affected")], "affected"],
    ["affected though the comparison says otherwise now", "full", [pair("affected", { grade: "not_covered" })], "affected"],
    ["unsure", "none", [pair("unsure")], "unsure"],
  ])("%s", (_, extent, pairs, outcome) => {
    expect(outcomeOf(extent, pairs)).toBe(outcome);
  });

  const anyPair = fc.record({
    grade: fc.constantFrom("covered", "likely", "check_label", "not_covered"),
    standing: fc.constantFrom("open", "unsure", "affected", "not_affected"),
    hasIdentifiers: fc.boolean(),
  }) as fc.Arbitrary<ProofPair>;

  it("a further pair never makes it look better, and the order says nothing", () => {
    const badness = (extent: Extent, pairs: ProofPair[]) => proofOutcomes.indexOf(outcomeOf(extent, pairs));
    fc.assert(
      fc.property(fc.constantFrom<Extent>("full", "part", "none"), fc.array(anyPair, { maxLength: 6 }), anyPair, (extent, pairs, more) => {
        expect(badness(extent, [...pairs, more])).toBeLessThanOrEqual(badness(extent, pairs));
        expect(badness(extent, [...pairs].reverse())).toBe(badness(extent, pairs));
      }),
    );
  });

  it("only what was read in full and raised nothing open is not found or cleared", () => {
    fc.assert(
      fc.property(fc.constantFrom<Extent>("part", "none"), fc.array(anyPair, { maxLength: 6 }), (extent, pairs) => {
        expect(["not_found", "cleared"]).not.toContain(outcomeOf(extent, pairs));
      }),
    );
  });

  it("every outcome has its words and its sentence", () => {
    expect(Object.keys(proofOutcomeWords).sort()).toEqual([...proofOutcomes].sort());
    expect(Object.keys(proofOutcomeSentences).sort()).toEqual([...proofOutcomes].sort());
  });
});

describe("what cannot be said by a notice", () => {
  it("names each gap, and none of a notice that was understood and compared", () => {
    expect(noticeGaps({ hasIdentifiers: true, isCompared: true, hasUnread: false })).toEqual([]);
    expect(noticeGaps({ hasIdentifiers: false, isCompared: false, hasUnread: true })).toEqual([
      ...["not_compared", "no_identifiers", "not_understood"],
    ]);
  });
});
