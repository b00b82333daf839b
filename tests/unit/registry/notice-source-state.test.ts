import { describe, expect, it } from "vitest";
import type { ReadNoticeList } from "@/lib/notices/notice-list";
import { heldReason } from "@/lib/registry/notice-source-guard";
import { type CheckedSource, retryAt, sourceState } from "@/lib/registry/notice-source-state";

const at = (hours: number) => new Date(Date.UTC(2026, 0, 1) + hours * 3_600_000);

describe("how a source stands", () => {
  const source: CheckedSource = { isOn: true, everyHours: 24, checkedAt: at(0), createdAt: at(-100), problem: null, heldCheckId: null };
  const cases: [string, Partial<CheckedSource>, number, string][] = [
    ["just looked at", {}, 1, "current"],
    ["twice its interval ago", {}, 48, "current"],
    ["longer than twice its interval ago", {}, 49, "late"],
    ["never, added a moment ago", { checkedAt: null, createdAt: at(0) }, 1, "new"],
    ["never, added long ago", { checkedAt: null }, 1, "late"],
    ["failed", { problem: "It refuses connections." }, 1, "troubled"],
    ["held, though paused", { heldCheckId: "1", isOn: false, problem: "It is short." }, 1, "held"],
    ["paused", { isOn: false }, 1, "paused"],
  ];
  it.each(cases)("%s", (_name, change, hours, state) => expect(sourceState({ ...source, ...change }, at(hours))).toBe(state));
});

describe("when a failed check is tried again", () => {
  const minutes = (failures: number, everyHours = 24, retryAfterSeconds: number | null = null) =>
    (retryAt(at(0), { everyHours, failures, retryAfterSeconds }).getTime() - at(0).getTime()) / 60_000;
  it("after a quarter of an hour, then twice as long each time, up to the source's own interval", () => {
    expect([1, 2, 3, 4, 5, 6, 7, 8, 1000].map((failures) => minutes(failures))).toEqual([15, 30, 60, 120, 240, 480, 960, 1440, 1440]);
    expect(minutes(9, 6)).toBe(360);
    expect(minutes(9, 168)).toBe(1440);
  });
  it("when the publisher asks, up to a day", () => {
    expect(minutes(1, 24, 7200)).toBe(120);
    expect(minutes(1, 24, 60)).toBe(15);
    expect(minutes(1, 24, 9_999_999)).toBe(1440);
  });
});

describe("why a list is held", () => {
  const list = (notices: number, change: Partial<ReadNoticeList> = {}) =>
    ({
      ok: true,
      format: "plain-list",
      source: "Office",
      notices: Array.from({ length: notices }),
      setAside: [],
      ...change,
    }) as unknown as ReadNoticeList;
  const last = { format: "plain-list", notices: 100 };
  const row = { line: 1, reason: "", content: "" };
  const cases: [string, ReadNoticeList, { format: string | null; notices: number | null }, RegExp | null][] = [
    ["half of the notices", list(50), last, null],
    ["fewer than half", list(49), last, /49 notices, and the version before held 100/],
    ["the first version", list(1), { format: null, notices: null }, null],
    ["one issue of a longer list", list(1, { isExtract: true }), last, null],
    ["another format", list(100, { format: "us-web-service" }), last, /another format/],
    ["more unread than read", list(1, { setAside: [row, row] }), { format: null, notices: null }, /could not be read \(2\)/],
    ["many of other kinds", list(1, { setAside: [{ ...row, records: 9000 }] }), { format: null, notices: null }, null],
    ["nothing but other kinds", list(0, { setAside: [{ ...row, records: 9000 }] }), { format: null, notices: null }, /no notice/],
  ];
  it.each(cases)("%s", (_name, read, before, reason) => {
    const held = heldReason(read, before);
    if (reason === null) expect(held).toBeNull();
    else expect(held).toMatch(reason);
  });
});
