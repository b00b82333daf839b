import { describe, expect, it } from "vitest";
import type { Candidate, Grade, Reason } from "@/lib/matching/candidate";
import { candidateChanges, isKept } from "@/lib/registry/candidate-changes";
import { reopeningReason, type Standing, type Verdict, workRank } from "@/lib/registry/decision-standing";

const grades: readonly Grade[] = ["covered", "likely", "check_label", "not_covered"];

describe("the order of the work", () => {
  it("puts open ones first, surest first, then the unsure, then the decided, and the ruled out last", () => {
    const all: [Standing, Grade][] = [
      ["undecided", "covered"],
      ["reopened", "likely"],
      ["undecided", "check_label"],
      ["reopened", "not_covered"],
      ["unsure", "covered"],
      ["affected", "covered"],
      ["not_affected", "not_covered"],
      ["undecided", "not_covered"],
    ];
    const ranks = all.map(([standing, grade]) => workRank(standing, grade));
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    expect(new Set(ranks).size).toBe(ranks.length);
  });
});

describe("whether a decision still stands", () => {
  const cases: [Verdict, Grade, readonly Grade[]][] = [
    ["affected", "check_label", ["not_covered"]],
    ["affected", "covered", ["check_label", "not_covered"]],
    ["not_affected", "check_label", ["covered", "likely"]],
    ["not_affected", "not_covered", ["covered", "likely", "check_label"]],
    ["unsure", "check_label", ["covered", "likely", "not_covered"]],
  ];
  it.each(cases)("%s at %s is reopened by %j and by nothing else", (verdict, grade, reopening) => {
    expect(grades.filter((next) => reopeningReason({ verdict, grade }, next) !== null)).toEqual(reopening);
  });

  it("says what the comparison said then and says now", () => {
    expect(reopeningReason({ verdict: "affected", grade: "covered" }, "check_label")).toBe(
      "When it was decided the comparison said “covered”; it now says “check the label”.",
    );
  });
});

const reason = (field: Reason["field"], level: string, weight: number): Reason => ({
  ...{ field, level, weight, onAppliance: "x", inNotice: "y", sentence: "" },
});
const candidate = (grade: Grade, reasons: readonly Reason[], noticeKey = "n1"): Candidate => ({
  ...{ applianceId: "a1", noticeKey, grade, score: 1, reasons, ask: null },
});

describe("what is stored of a comparison", () => {
  it("keeps a ruled-out pair only where model and maker agree and a fact rules it out", () => {
    const model = reason("model", "model.exact", 20);
    const brand = reason("brand", "brand.same", 6);
    const outside = reason("serial", "serial.outside", -14);
    expect(isKept(candidate("not_covered", [model, brand, outside]))).toBe(true);
    expect(isKept(candidate("not_covered", [model, brand]))).toBe(false);
    expect(isKept(candidate("not_covered", [model, reason("brand", "brand.other", -8), outside]))).toBe(false);
    expect(isKept(candidate("not_covered", [reason("model", "model.different", -26), brand, outside]))).toBe(false);
    expect(isKept(candidate("check_label", []))).toBe(true);
  });

  it("writes new and changed pairs, leaves equal ones, removes undecided ones and keeps decided ones as not covered", () => {
    const hashes = new Map([
      ["n1", "h1"],
      ["n2", "h1"],
    ]);
    const stored = (noticeId: string, standing: Standing) => ({
      ...({
        id: `c-${noticeId}`,
        noticeId,
        applianceId: "a1",
        grade: "covered",
        score: 1,
        reasons: [],
        ask: null,
        noticeHash: "h1",
        standing,
      } as const),
    });
    const equal = candidateChanges([candidate("covered", [])], [stored("n1", "undecided")], hashes);
    expect(equal).toEqual({ writes: [], deletions: [], unchanged: 1 });
    const amended = candidateChanges([candidate("covered", [])], [stored("n1", "undecided")], new Map([["n1", "h2"]]));
    expect(amended.writes).toMatchObject([{ id: "c-n1", noticeHash: "h2" }]);
    const gone = candidateChanges([], [stored("n1", "undecided"), stored("n2", "affected")], hashes);
    expect(gone.deletions).toEqual(["c-n1"]);
    expect(gone.writes).toMatchObject([{ id: "c-n2", standing: "affected", candidate: { grade: "not_covered" } }]);
    expect(candidateChanges([candidate("covered", [])], [], hashes).writes).toMatchObject([{ id: null, standing: "undecided", rank: 0 }]);
  });
});
