import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  countRemedies,
  effectInstants,
  type RemedyCase,
  type RemedyDecision,
  type RemedyFinding,
  remedyPlace,
  settledShare,
} from "@/lib/casework/remedy-account";

const day = (number: number) => new Date(Date.UTC(2026, 2, number));
const decided = (verdict: RemedyDecision["verdict"], at: number, until: number | null = null): RemedyDecision => ({
  ...{ verdict, at: day(at), until: until === null ? null : day(until) },
});
const finding = (given: Partial<RemedyFinding>): RemedyFinding => ({
  isClosed: false,
  closedAt: null,
  outcome: null,
  stage: null,
  ...given,
});
const closed = (outcome: string, at: number) => finding({ isClosed: true, closedAt: day(at), outcome });
const aCase = (given: Partial<RemedyCase>): RemedyCase => ({
  ...{ noticeId: "n", siteId: "s", raisedAt: day(1), decisions: [], finding: null },
  ...given,
});
const affected = [decided("affected", 3)];

describe("where a case is", () => {
  it.each<[string, Partial<RemedyCase>, number, string | null]>([
    ["before it was raised", {}, 0, null],
    ["raised", {}, 2, "undecided"],
    ["confirmed, on the day", { decisions: affected }, 3, "found"],
    ["confirmed later", { decisions: affected }, 2, "undecided"],
    ["confirmed, with a claim registered", { decisions: affected, finding: finding({ stage: "registered" }) }, 4, "registered"],
    ["with the appliance sent in", { decisions: affected, finding: finding({ stage: "sent" }) }, 4, "sent"],
    ["with the remedy received, not closed", { decisions: affected, finding: finding({ stage: "received" }) }, 4, "received"],
    ["closed with the remedy", { decisions: affected, finding: closed("remedy_received", 6) }, 6, "settled"],
    ["the day before it was closed", { decisions: affected, finding: closed("remedy_received", 6) }, 5, "found"],
    ["removed", { decisions: affected, finding: closed("removed", 6) }, 7, "settled"],
    ["accepted with a reason", { decisions: affected, finding: closed("accepted", 6) }, 7, "accepted"],
    ["closed as not affected", { decisions: affected, finding: closed("found_not_affected", 6) }, 7, "not_affected"],
    ["decided not affected", { decisions: [decided("not_affected", 3)] }, 4, "not_affected"],
    ["unsure", { decisions: [decided("unsure", 3)] }, 4, "unsure"],
    ["a decision that was opened again", { decisions: [decided("not_affected", 3, 5)] }, 5, "undecided"],
    ["the same before that", { decisions: [decided("not_affected", 3, 5)] }, 4, "not_affected"],
    ["unsure, then confirmed", { decisions: [decided("unsure", 3, 5), decided("affected", 5)] }, 5, "found"],
  ])("%s", (_, given, at, place) => {
    expect(remedyPlace(aCase(given), day(at))).toBe(place);
  });
});

describe("the account of remedies", () => {
  const anyDay = fc.integer({ min: 1, max: 28 });
  const anyCase = fc.record({
    noticeId: fc.constant("n"),
    siteId: fc.constantFrom("s", "t"),
    raisedAt: anyDay.map(day),
    decisions: fc
      .array(fc.tuple(fc.constantFrom("affected", "not_affected", "unsure"), anyDay), { maxLength: 3 })
      .map((list) => list.sort((a, b) => a[1] - b[1]).map(([verdict, at], i, all) => decided(verdict, at, all[i + 1]?.[1] ?? null))),
    finding: fc.option(
      fc.record({
        isClosed: fc.boolean(),
        closedAt: fc.option(anyDay.map(day)),
        outcome: fc.constantFrom("repaired", "removed", "accepted", "found_not_affected", null),
        stage: fc.constantFrom("registered", "sent", "received", null),
      }),
    ),
  }) as fc.Arbitrary<RemedyCase>;

  it("every raised case is in one place, and the sums are those they are said to be", () => {
    fc.assert(
      fc.property(fc.array(anyCase, { maxLength: 12 }), anyDay, (cases, at) => {
        const counts = countRemedies(cases, day(at));
        const { have, undecided, unsure, found, waiting, registered, sent, received, settled, accepted, notAffected } = counts;
        expect(have).toBe(undecided + unsure + found);
        expect(found).toBe(waiting + registered + sent + received + settled + accepted);
        expect(have + notAffected).toBe(cases.filter(({ raisedAt }) => raisedAt <= day(at)).length);
        const share = settledShare(counts);
        if (have === 0) expect(share).toBeNull();
        else expect(share).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("the sites' counts add up to the whole", () => {
    fc.assert(
      fc.property(fc.array(anyCase, { maxLength: 12 }), anyDay, (cases, at) => {
        const of = (site: string) =>
          countRemedies(
            cases.filter(({ siteId }) => siteId === site),
            day(at),
          ).settled;
        expect(of("s") + of("t")).toBe(countRemedies(cases, day(at)).settled);
      }),
    );
  });
});

describe("the instants of a chart", () => {
  it.each<[number, number]>([
    [0, 1],
    [3, 1],
    [11, 1],
    [12, 7],
    [77, 7],
    [80, 28],
    [308, 28],
    [400, 91],
    [3000, 364],
    [9000, 819],
  ])("%i days are seen every %i days", (days, step) => {
    const [from, to] = [day(1), new Date(day(1).getTime() + days * 86_400_000)];
    const instants = effectInstants(from, to);
    expect(instants.length).toBeLessThanOrEqual(13);
    expect(instants.at(-1)).toEqual(to);
    expect(instants[0]!.getTime()).toBeLessThanOrEqual(from.getTime());
    const [first, second] = instants;
    if (second) expect((second.getTime() - first!.getTime()) / 86_400_000).toBe(step);
  });
});
