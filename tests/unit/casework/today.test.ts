import { describe, expect, test } from "vitest";
import { dueWords, waiting } from "@/lib/casework/due-words";
import { isSettled } from "@/lib/casework/settled-result";
import { allowedSteps, type CaseFacts, mayTake } from "@/lib/casework/step";
import { firstStep, groupOf, orderGroups, type Ranked, type TodayGroup, todayGroupNames } from "@/lib/casework/today-group";

const now = new Date("2026-11-24T15:00:00Z");
const facts = (change: Partial<CaseFacts>): CaseFacts => ({
  state: "open",
  cause: "over_rating",
  signalWord: "DANGER",
  hasAppliance: true,
  ...change,
});

describe("The day's work", () => {
  const table: readonly [Partial<CaseFacts>, TodayGroup][] = [
    [{}, "take_out_of_use"],
    [{ cause: "recall", signalWord: "WARNING" }, "take_out_of_use"],
    [{ cause: "repeated_trips", signalWord: "WARNING" }, "take_out_of_use"],
    [{ cause: "repeated_trips", signalWord: "WARNING", hasAppliance: false }, "call_electrician"],
    [{ cause: "circuit_overload", hasAppliance: false }, "call_electrician"],
    [{ cause: "lost_neutral", hasAppliance: false }, "call_electrician"],
    [{ cause: "drift", signalWord: "CAUTION" }, "decide"],
    [{ cause: "by hand", signalWord: "WARNING", hasAppliance: false }, "decide"],
    [{ state: "out_of_use" }, "bring_proof"],
    [{ cause: "recall", state: "remedy_awaited" }, "bring_proof"],
  ];
  test.each(table)("a finding with %j stands under %s", (change, group) => {
    expect(groupOf(facts(change))).toBe(group);
  });

  test("the step that a row offers first may be taken by a manager", () => {
    for (const [change, group] of table)
      if (group !== "read_label") expect(mayTake(firstStep[group], facts(change), "manager"), group).toBe(true);
    expect(allowedSteps(facts({ state: "out_of_use" }), "surveyor")).toContain(firstStep.bring_proof);
  });

  test("the group with the oldest danger comes first, its strongest and oldest rows on top", () => {
    const row = (signalWord: Ranked["signalWord"], day: number): Ranked => ({ signalWord, since: new Date(Date.UTC(2026, 10, day)) });
    const order = orderGroups(
      new Map<TodayGroup, Ranked[]>([
        ["take_out_of_use", [row("WARNING", 1), row("DANGER", 20), row("DANGER", 18)]],
        ["call_electrician", [row("DANGER", 15)]],
        ["decide", [row("CAUTION", 2)]],
        ["read_label", []],
      ]),
    );
    expect(order.map(([name]) => name)).toEqual(["call_electrician", "take_out_of_use", "decide"]);
    expect(order[1]?.[1].map(({ since }) => since.getUTCDate())).toEqual([18, 20, 1]);
  });

  test("without dangers the groups stand in the order of what is most urgent to do", () => {
    const waiting: Ranked = { signalWord: "NOTICE", since: now };
    const rows = new Map(todayGroupNames.map((name) => [name, [waiting]]));
    expect(orderGroups(rows).map(([name]) => name)).toEqual(["take_out_of_use", "call_electrician", "read_label", "decide", "bring_proof"]);
  });
});

describe("Ages and due dates as words", () => {
  test.each([
    ["2026-11-15T14:00:00Z", { count: 9, unit: "days" }],
    ["2026-11-23T15:00:00Z", { count: 1, unit: "day" }],
    ["2026-11-24T09:30:00Z", { count: 5, unit: "hours" }],
    ["2026-11-24T14:59:00Z", { count: 1, unit: "minute" }],
    ["2026-11-25T00:00:00Z", { count: 0, unit: "minutes" }],
  ])("since %s", (since, expected) => {
    expect(waiting(new Date(since), now)).toEqual(expected);
  });

  test.each([
    ["2026-11-16T15:00:00Z", "Overdue by 8 days", true],
    ["2026-11-23T15:00:00Z", "Overdue by 1 day", true],
    ["2026-11-24T14:00:00Z", "Due today, past", true],
    ["2026-11-24T23:00:00Z", "Due today", false],
    ["2026-11-25T05:00:00Z", "Due today", false],
    ["2026-11-25T15:00:00Z", "Due tomorrow", false],
    ["2026-11-26T15:00:00Z", "Due Thu 26 Nov", false],
    ["2026-12-15T15:00:00Z", "Due 15 Dec", false],
    ["2027-01-04T15:00:00Z", "Due 4 Jan 2027", false],
  ])("%s is %s in Chicago", (due, words, late) => {
    expect(dueWords(new Date(due), now, "America/Chicago")).toEqual({ words, late });
  });
});

describe("A result at the end of the readings", () => {
  const at = (seconds: number) => Date.parse("2026-03-02T18:00:00Z") + seconds * 1000;
  const result = (kind: Parameters<typeof isSettled>[0]["kind"], seconds: number, value = 20) => ({
    kind,
    fromMs: at(0),
    toMs: at(seconds),
    value,
    limit: 15,
  });

  test("waits while it rests on holding the last reading, as a start-up cut off in the middle does", () => {
    expect(isSettled(result("over_rating", 6), at(6))).toBe(false);
    expect(isSettled(result("circuit_overload", 60), at(0))).toBe(false);
    expect(isSettled(result("high_voltage", 130), at(70))).toBe(false);
  });

  test("is settled once it was read for long enough, or the readings went on", () => {
    expect(isSettled(result("over_rating", 16), at(16))).toBe(true);
    expect(isSettled(result("over_rating", 6), at(76))).toBe(true);
    expect(isSettled(result("circuit_overload", 3600), at(3540))).toBe(true);
    expect(isSettled(result("lost_neutral", 10), at(10))).toBe(true);
  });

  test("the last trip of three waits for the seconds in which the supply could explain it; a fourth does not", () => {
    expect(isSettled({ ...result("repeated_trips", 100, 3), limit: 3 }, at(102))).toBe(false);
    expect(isSettled({ ...result("repeated_trips", 100, 4), limit: 3 }, at(102))).toBe(true);
  });
});
