import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addMonths,
  type DueFacts,
  dueState,
  firstDue,
  inspectionEnvironments,
  inspectionIntervals,
  intervalColumn,
  nextDue,
} from "@/lib/casework/inspection-due";

const at = new Date("2026-03-02T12:00:00Z");
const facts = (given: Partial<DueFacts> = {}): DueFacts => ({
  at,
  result: "pass",
  environment: "workshop",
  column: "Class I",
  ownMonths: null,
  dueBefore: null,
  ...given,
});

describe("months between inspections (AS/NZS 3760:2003 and 2010, Table 4, read in two published copies; 2022 not checked)", () => {
  it.each([
    ["construction", 3, 3, 3],
    ["workshop", 6, 12, 6],
    ["hostile", 12, 12, 12],
    ["calm", 60, 60, 60],
    ["lodging", 24, 24, 24],
    ["cleaning", 6, 12, 12],
    ["hire", 3, 3, 3],
  ] as const)("%s: Class I %d, Class II %d, cord sets %d", (environment, one, two, cord) => {
    expect(inspectionIntervals[environment].months).toEqual({ "Class I": one, "Class II": two, "cord set": cord });
  });

  it.each([
    ["I", "kettle", "Class I"],
    ["II", "hair dryer", "Class II"],
    ["III", "lamp", "Class I"],
    [null, null, "Class I"],
    ["II", "extension cord", "cord set"],
    ["I", "Power strip", "cord set"],
    ["I", "cable reel", "cord set"],
  ] as const)("Class %s, %s goes by the column %s", (protectionClass, category, column) => {
    expect(intervalColumn(protectionClass, category)).toBe(column);
  });
});

describe("adding months", () => {
  // The calendar; a day that a month does not have becomes its last.
  it.each([
    ["2024-02-29", 12, "2025-02-28"],
    ["2025-08-31", 6, "2026-02-28"],
    ["2023-08-31", 6, "2024-02-29"],
    ["2026-03-31", 3, "2026-06-30"],
    ["2026-12-15", 1, "2027-01-15"],
    ["2026-01-31", 60, "2031-01-31"],
  ])("%s and %d months is %s", (from, months, to) => {
    expect(addMonths(new Date(`${from}T18:00:00Z`), months).toISOString()).toBe(`${to}T00:00:00.000Z`);
  });

  it("lands in the right month and never goes back", () => {
    const day = fc.date({ min: new Date("2000-01-01"), max: new Date("2100-01-01"), noInvalidDate: true });
    fc.assert(
      fc.property(day, fc.integer({ min: 1, max: 120 }), (from, months) => {
        const to = addMonths(from, months);
        const count = (one: Date) => one.getUTCFullYear() * 12 + one.getUTCMonth();
        expect(count(to) - count(from)).toBe(months);
        expect(addMonths(from, months + 1) > to).toBe(true);
      }),
    );
  });
});

describe("the next inspection", () => {
  it("is due by environment and column, with the source", () => {
    expect(nextDue(facts())).toEqual({
      dueAt: new Date("2026-09-02T00:00:00Z"),
      why: "6 months, factory, workshop, repair, Class I (AS/NZS 3760:2010 Table 4).",
    });
    expect(nextDue(facts({ column: "Class II" })).dueAt).toEqual(new Date("2027-03-02T00:00:00Z"));
  });

  it("goes by the months that a site states of its own", () => {
    expect(nextDue(facts({ ownMonths: 4 }))).toMatchObject({
      dueAt: new Date("2026-07-02T00:00:00Z"),
      why: expect.stringMatching(/own interval/),
    });
  });

  it("is due at once after a fail, and not moved by a limited one", () => {
    expect(nextDue(facts({ result: "fail" })).dueAt).toEqual(at);
    const before = new Date("2026-02-01T00:00:00Z");
    expect(nextDue(facts({ result: "limited", dueBefore: before })).dueAt).toEqual(before);
    expect(nextDue(facts({ result: "limited" })).dueAt).toBeNull();
  });

  it("only a pass is ever due later than now", () => {
    fc.assert(
      fc.property(fc.constantFrom("pass", "fail", "limited"), fc.constantFrom(...inspectionEnvironments), (result, environment) => {
        const { dueAt } = nextDue(facts({ result: result, environment }));
        expect(dueAt !== null && dueAt > at).toBe(result === "pass");
      }),
    );
  });
});

describe("how due it is", () => {
  it.each([
    [null, "overdue"],
    ["2026-03-02T12:00:00Z", "overdue"],
    ["2026-03-02T12:00:01Z", "due"],
    ["2026-04-01T12:00:00Z", "due"],
    ["2026-04-01T12:00:01Z", "later"],
  ])("one due %s is %s", (due, state) => {
    expect(dueState(due === null ? null : new Date(due), at)).toBe(state);
  });

  it("one never inspected is due so many days after it was entered", () => {
    expect(firstDue(at, 0)).toEqual(at);
    expect(firstDue(at, 30)).toEqual(new Date("2026-04-01T12:00:00Z"));
  });
});
