import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dueAfterRaise, dueDate } from "@/lib/casework/due-date";
import { isStronger, signalWords } from "@/lib/casework/signal-word";

const opened = new Date("2026-03-02T10:00:00Z");

describe("Due dates", () => {
  // Own policy; no standard sets these.
  test.each([
    ["DANGER", "2026-03-03T10:00:00Z"],
    ["WARNING", "2026-03-09T10:00:00Z"],
    ["CAUTION", "2026-04-01T10:00:00Z"],
    ["NOTICE", "2026-05-31T10:00:00Z"],
  ] as const)("a %s opened on 2 March is due at %s", (word, due) => {
    expect(dueDate(word, opened)).toEqual(new Date(due));
  });

  test("a stronger word is never due later", () => {
    for (const a of signalWords)
      for (const b of signalWords) if (isStronger(a, b)) expect(dueDate(a, opened) < dueDate(b, opened)).toBe(true);
  });

  test("raising brings the date forward or leaves it, and never puts it off", () => {
    const instant = fc.date({ min: new Date("2026-01-01"), max: new Date("2027-01-01"), noInvalidDate: true });
    fc.assert(
      fc.property(fc.constantFrom(...signalWords), instant, instant, (word, due, now) => {
        const after = dueAfterRaise(word, due, now);
        expect(after <= due).toBe(true);
        expect(after <= dueDate(word, now)).toBe(true);
      }),
    );
  });
});
