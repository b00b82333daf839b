import { describe, expect, test } from "vitest";
import {
  applianceAfter,
  type Closing,
  type ClosingCase,
  closingProblems,
  isOutcome,
  outcomeNames,
  possibleOutcomes,
} from "@/lib/casework/outcome";
import { signalWords } from "@/lib/casework/signal-word";

const now = new Date("2026-03-02T10:00:00Z");
const nextMonth = new Date("2026-04-02T10:00:00Z");
const closing = (change: Partial<Closing> = {}): Closing => ({ outcome: "repaired", reason: "", evidence: "", reviewAt: null, ...change });
const on = (change: Partial<ClosingCase> = {}): ClosingCase => ({
  cause: "over_rating",
  signalWord: "WARNING",
  proofs: [],
  closedBy: "ada",
  othersMayClose: true,
  outsideAgreed: false,
  ...change,
});
const problemFields = (c: Closing, k: ClosingCase) => Object.keys(closingProblems(c, k, now)).sort();

describe("Closing a finding", () => {
  test("each outcome is possible where this table says so", () => {
    const always = ["repaired", "replaced", "removed", "found_not_affected"];
    for (const word of signalWords) {
      const accepted = word === "DANGER" ? [] : ["accepted"];
      expect(possibleOutcomes("drift", word)).toEqual([...always, ...accepted]);
      expect(possibleOutcomes("recall", word).sort()).toEqual([...always, ...accepted, "remedy_received"].sort());
    }
    expect(isOutcome("ignored")).toBe(false);
  });

  test("a danger is never accepted, whatever is written beside it", () => {
    const accepted = closing({ outcome: "accepted", reason: "Known.", evidence: "Letter 7", reviewAt: nextMonth });
    expect(closingProblems(accepted, on({ signalWord: "DANGER", othersMayClose: false }), now).outcome).toMatch(/never accepted/);
    for (const signalWord of signalWords.slice(1)) expect(problemFields(accepted, on({ signalWord }))).toEqual([]);
  });

  test("accepting asks for a reason and for a day after today on which it is looked at again", () => {
    expect(problemFields(closing({ outcome: "accepted" }), on())).toEqual(["reason", "reviewAt"]);
    expect(problemFields(closing({ outcome: "accepted", reason: "Seen", reviewAt: now }), on())).toEqual(["reviewAt"]);
  });

  test("saying that it is not affected asks for the reason", () => {
    expect(problemFields(closing({ outcome: "found_not_affected", reason: "  " }), on())).toEqual(["reason"]);
  });

  test("a danger is not closed without evidence, not even by the only person", () => {
    for (const outcome of outcomeNames.filter((name) => name !== "accepted")) {
      const problems = closingProblems(
        closing({ outcome, reason: "Seen" }),
        on({ cause: "recall", signalWord: "DANGER", othersMayClose: false }),
        now,
      );
      expect(problems.evidence).toMatch(/only with evidence/);
    }
  });

  test("who recorded the proof of a danger does not close it while a colleague may", () => {
    const danger = { signalWord: "DANGER", proofs: [{ byUserId: "ada", text: "Receipt 12" }] } as const;
    expect(closingProblems(closing({ evidence: "Receipt 12" }), on(danger), now).evidence).toMatch(/second person/);
    expect(problemFields(closing(), on({ ...danger, closedBy: "ben" }))).toEqual([]);
    expect(closingProblems(closing(), on({ ...danger, othersMayClose: false }), now).evidence).toMatch(/checker from outside/);
    expect(problemFields(closing(), on({ ...danger, othersMayClose: false, outsideAgreed: true }))).toEqual([]);
    expect(problemFields(closing(), on({ ...danger, outsideAgreed: true }))).toEqual([]);
    expect(closingProblems(closing({ evidence: "Receipt 12" }), on({ signalWord: "DANGER" }), now).evidence).toMatch(/second person/);
  });

  test("a warning that was repaired may be closed by whoever repaired it", () => {
    expect(problemFields(closing(), on({ proofs: [{ byUserId: "ada", text: "Receipt 12" }] }))).toEqual([]);
  });

  test("a remedy is received only for a recall", () => {
    expect(problemFields(closing({ outcome: "remedy_received" }), on())).toEqual(["outcome"]);
    expect(problemFields(closing({ outcome: "remedy_received" }), on({ cause: "recall" }))).toEqual([]);
  });

  test("what was replaced or removed is retired, but not the fixture whose lamp was changed", () => {
    expect(applianceAfter("removed", "recall")).toBe("retired");
    expect(applianceAfter("replaced", "over_rating")).toBe("retired");
    expect(applianceAfter("replaced", "lamp_too_strong")).toBe("may be used again");
    expect(applianceAfter("repaired", "recall")).toBe("may be used again");
    expect(applianceAfter("accepted", "drift")).toBe("unchanged");
  });
});
