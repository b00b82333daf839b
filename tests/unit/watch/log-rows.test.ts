import { describe, expect, it } from "vitest";
import { makeLogRowReader } from "@/lib/watch/log-rows";
import { readIsoTime } from "@/lib/watch/log-time";
import { instantsOf, usualOffset } from "@/lib/watch/zone-time";

const header = ["at", "outlet", "receptacle", "tag", "watts", "amps", "volts", "power_factor", "event", "cause"];
const zones: Readonly<Record<string, string | null>> = { O1: "America/Chicago", O2: null };
const reader = () => makeLogRowReader(header, (outlet) => zones[outlet]);
const cells = (at: string, more: Record<number, string> = {}) => Object.assign([at, "O1", "1", "", "", "", "", "", "", ""], more);

describe("the time of a log row", () => {
  it.each([
    ["2026-03-01T12:00:00Z", "2026-03-01T12:00:00.000Z"],
    ["2026-03-01T12:00:00.250-05:00", "2026-03-01T17:00:00.250Z"],
    ["2026-03-01 12:00:00+05:30", "2026-03-01T06:30:00.000Z"],
    ["2026-03-01T12:00+01", "2026-03-01T11:00:00.000Z"],
    ["2026-03-01T12:00:00", "2026-03-01T18:00:00.000Z"],
    ["2026-07-01T12:00:00", "2026-07-01T17:00:00.000Z"],
  ])("%s in Chicago is %s", (text, instant) => {
    const row = reader()(cells(text));
    expect("reading" in row && new Date(row.reading.atMs).toISOString()).toBe(instant);
  });

  it.each([
    "",
    "yesterday",
    "2026-02-30T10:00:00Z",
    "2026-13-01T10:00:00Z",
    "2026-03-01T25:00:00Z",
    "2026-03-01T10:60:00Z",
    "12:00",
    "1767225600",
  ])("that is none sets the row aside with a plain reason: %j", (text) => {
    expect(reader()(cells(text))).toMatchObject({ reason: "no_time" });
    expect(readIsoTime(text)).toBeNull();
  });

  it("without offset and without a site zone sets the row aside", () => {
    expect(reader()(cells("2026-03-01T12:00:00", { 1: "O2" }))).toMatchObject({
      reason: "no_zone",
      setAside: expect.stringContaining("no time zone"),
    });
    expect(reader()(cells("2026-03-01T12:00:00Z", { 1: "O2" }))).toHaveProperty("reading");
  });

  it("in the repeated hour is marked: the first time earlier, then later (2026-11-01 in Chicago)", () => {
    const read = reader();
    const at = (text: string) => {
      const row = read(cells(text));
      return "reading" in row ? [new Date(row.reading.atMs).toISOString(), row.ambiguousHour] : row.reason;
    };
    expect(at("2026-11-01T00:59:00")).toEqual(["2026-11-01T05:59:00.000Z", false]);
    expect(at("2026-11-01T01:10:00")).toEqual(["2026-11-01T06:10:00.000Z", true]);
    expect(at("2026-11-01T01:50:00")).toEqual(["2026-11-01T06:50:00.000Z", true]);
    expect(at("2026-11-01T01:10:00")).toEqual(["2026-11-01T07:10:00.000Z", true]);
    expect(at("2026-11-01T02:00:00")).toEqual(["2026-11-01T08:00:00.000Z", false]);
  });

  it("over which the clock was put forward never was (2026-03-08 in Chicago)", () => {
    expect(reader()(cells("2026-03-08T02:30:00"))).toMatchObject({ reason: "no_such_local_time" });
  });

  it("is found in every zone as the runtime's calendar shows it, every quarter of an hour of a year with its changes", () => {
    for (const zone of ["America/Chicago", "Europe/Berlin", "Australia/Lord_Howe", "Asia/Kolkata", "America/St_Johns"]) {
      for (let wall = Date.UTC(2026, 0, 1); wall < Date.UTC(2027, 0, 1); wall += 45 * 60_000 * 29) {
        const usual = usualOffset(zone, wall);
        if (usual !== null) expect(instantsOf(zone, wall)).toEqual([wall - usual]);
      }
    }
  });
});

describe("the cells of a log row", () => {
  const noon = "2026-03-01T12:00:00Z";

  it("are read in units; empty is unknown, never zero", () => {
    const row = reader()(cells(noon, { 2: "Upper", 3: "T1", 4: "12,5", 6: "120.1", 8: "TRIP", 9: "overload" }));
    expect(row).toEqual({
      ambiguousHour: false,
      reading: {
        atMs: Date.parse(noon),
        outlet: "O1",
        receptacle: "1",
        tag: "T1",
        watts: 12.5,
        amps: null,
        volts: 120.1,
        powerFactor: null,
        event: "trip",
        cause: "overload",
      },
    });
  });

  it.each([
    [4, "-5", "negative"],
    [4, "NaN", "not_finite"],
    [5, "1e999", "not_finite"],
    [6, "high", "bad_number"],
    [8, "exploded", "unknown_event"],
    [1, "", "no_outlet"],
  ])("that cannot be (column %d: %j) set the row aside", (column, text, reason) => {
    const row = reader()(cells(noon, { [column]: text }));
    expect(row).toMatchObject({ reason });
    expect("setAside" in row && row.setAside.length).toBeGreaterThan(20);
  });

  it("come under other headers, in any order", () => {
    const read = makeLogRowReader(["Power (W)", "Socket", "Timestamp"], () => null);
    expect(read(["7", "O1", noon])).toMatchObject({ reading: { watts: 7, outlet: "O1" } });
  });

  it("come as the keys of a JSON line, numbers or texts", () => {
    const read = makeLogRowReader("jsonl", () => null);
    expect(read({ at: noon, outlet: "O1", receptacle: 2, watts: 7, amps: "0.5", event: null })).toMatchObject({
      reading: { receptacle: "2", watts: 7, amps: 0.5, event: null },
    });
    expect(read({ something: "else" })).toMatchObject({ reason: "no_outlet" });
  });
});
