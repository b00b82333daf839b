import { describe, expect, it } from "vitest";
import { type ProofOutcome, proofOutcomes } from "@/lib/matching/negative-proof";
import { type ProofFacts, proofStatement } from "@/lib/matching/proof-statement";

const none = Object.fromEntries(proofOutcomes.map((outcome) => [outcome, 0])) as Record<ProofOutcome, number>;
const facts = (given: Partial<ProofFacts>): ProofFacts => ({
  ...{ site: "Alder House", tag: null, at: "2 Mar 2026, 10:00 (UTC)", appliances: 9, counts: none, lists: 2, notices: 1200, unproved: 3 },
  ...given,
});

describe("the statement of what was checked", () => {
  it("says what was compared with what, when, and each sum once", () => {
    const counts = { ...none, not_found: 3, cleared: 1, affected: 1, open: 1, unsure: 1, not_checked: 1, in_part: 1 };
    const [first, second, third] = proofStatement(facts({ counts }));
    expect(first).toBe(
      "9 appliances of Alder House, not retired, were compared on 2 Mar 2026, 10:00 (UTC) with 1,200 notices of 2 recall lists, each named below with its version.",
    );
    expect(second).toBe(
      "Of these 9: 3 on none of these lists, or ruled out by a fact; 1 named by a notice and found not affected by a person; 1 covered by a notice; 2 not settled, to be treated as covered; 2 that could not be checked in full.",
    );
    expect(third).toBe("3 notices of these lists could be compared in part only, or not at all; they are named below.");
  });

  it.each<[ProofOutcome, RegExp]>([
    ["not_found", /on none of these lists/],
    ["cleared", /decided, with a reason, that it is not affected/],
    ["affected", /confirmed that a notice covers it/],
    ["open", /not settled: treat it as covered/],
    ["unsure", /not settled: treat it as covered/],
    ["in_part", /could not be checked in full/],
    ["not_checked", /could not be checked in full/],
    ["unanswered", /could not be checked in full/],
  ])("one appliance that is %s", (outcome, words) => {
    const [first, second] = proofStatement(facts({ tag: "H7-1", appliances: 1, counts: { ...none, [outcome]: 1 } }));
    expect(first).toMatch(/^The appliance H7-1 of Alder House was compared on /);
    expect(second).toMatch(words);
  });

  it("always ends with what it does not say, and never says safe", () => {
    for (const given of [{}, { lists: 0, notices: 0 }, { appliances: 0 }, { unproved: 0 }, { tag: "H7-1", appliances: 1 }]) {
      const words = proofStatement(facts(given));
      expect(words.at(-1)).toMatch(/does not mean that an appliance is safe, nor that it is not recalled/);
      expect(words.slice(0, -1).join(" ")).not.toMatch(/\bsafe\b/);
    }
    expect(proofStatement(facts({ lists: 0, notices: 0 }))[0]).toMatch(/no recall list was loaded: nothing was compared/);
  });
});
