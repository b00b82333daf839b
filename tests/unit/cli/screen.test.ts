import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Papa from "papaparse";
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { WrongUse } from "@/lib/cli/command";
import { screenCommand } from "@/lib/cli/screen";

const fixture = (name: string) => join(__dirname, "../../fixtures/watch", name);
const [labels, places, log] = ["labels.csv", "places.csv", "log.csv"].map(fixture) as [string, string, string];
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "screen-"));
});
afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => vi.restoreAllMocks());

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

/** Runs the command and gives its exit code, its results as records, and the last line of standard error. */
async function run(...args: string[]) {
  const errors: string[] = [];
  vi.spyOn(process.stderr, "write").mockImplementation((text) => errors.push(String(text)) > 0);
  const out = join(folder, "results.csv");
  const code = await screenCommand([...args, "--out", out]);
  const text = readFileSync(out, "utf8");
  const lines = errors.join("").trimEnd().split("\n");
  return {
    code,
    text,
    records: Papa.parse<Record<string, string>>(text.trim(), { header: true }).data,
    errors: lines,
    account: JSON.parse(lines[lines.length - 1]!) as Record<string, unknown>,
  };
}

describe("screen with files", () => {
  it("writes the results as CSV with the columns of the format, and accounts for every row", async () => {
    const { code, text, records, account } = await run("--labels", labels, "--places", places, "--log", log);
    expect(text.split("\r\n")[0]).toBe("kind,site,circuit,outlet,receptacle,tag,from,to,value,limit,ratio,signal_word,reasons");
    expect(records).toEqual([
      expect.objectContaining({
        kind: "over_rating",
        site: "Alder House",
        circuit: "C1",
        outlet: "O1",
        receptacle: "1",
        tag: "T-100",
        from: "2026-03-01T18:01:00Z",
        to: "2026-03-01T18:01:59Z",
        value: "1700",
        limit: "1575",
        ratio: "1.079",
        signal_word: "WARNING",
      }),
    ]);
    expect(account).toEqual({
      read: 293,
      judged: 288,
      set_aside: { repeated: 1, unknown_outlet: 1, negative: 1, no_time: 1, late: 1 },
      results: 1,
    });
    expect(code).toBe(1);
  });

  it("gives the same bytes each time, and exits 0 when nothing was set aside", async () => {
    const clean = file("clean.csv", readFileSync(log, "utf8").split("\n").slice(0, -6).join("\n"));
    const first = await run("--labels", labels, "--places", places, "--log", clean);
    const second = await run("--labels", labels, "--places", places, "--log", clean);
    expect(first.code).toBe(0);
    expect(second.text).toBe(first.text);
  });

  it("finds the same in JSON lines as in CSV", async () => {
    const rows = Papa.parse<Record<string, string>>(readFileSync(log, "utf8"), { header: true, skipEmptyLines: true }).data;
    const lines = file("log.jsonl", rows.map((row) => JSON.stringify(row)).join("\n"));
    const [csv, json] = [
      await run("--labels", labels, "--places", places, "--log", log),
      await run("--labels", labels, "--places", places, "--log", lines),
    ];
    expect(json.text).toBe(csv.text);
    expect(json.account).toEqual(csv.account);
  });

  it("counts a line that cannot be read, and goes on behind it", async () => {
    const rows = Papa.parse<Record<string, string>>(readFileSync(log, "utf8"), { header: true, skipEmptyLines: true }).data;
    const written = rows.map((row) => JSON.stringify(row));
    const lines = file("broken.jsonl", written.toSpliced(100, 0, '{"at": "2026-03-', "[1, 2", "no JSON at all").join("\n"));
    const { account, text } = await run("--labels", labels, "--places", places, "--log", lines);
    const whole = await run("--labels", labels, "--places", places, "--log", log);
    expect(account).toEqual({
      ...whole.account,
      read: (whole.account["read"] as number) + 3,
      set_aside: { ...(whole.account["set_aside"] as object), unparsable: 3 },
    });
    expect(text).toBe(whole.text);
  });

  it("reads local times in --zone where the places name none, and sets them aside without", async () => {
    const bare = file(
      "places.csv",
      "site,circuit,device_amps,volts,outlet,outlet_amps,receptacles\nAlder House,C1,15,120,O1,15,2\nAlder House,C2,20,120,O2,15,2\n",
    );
    const zoned = await run("--labels", labels, "--places", bare, "--log", log, "--zone", "America/Chicago");
    expect(zoned.records[0]).toMatchObject({ from: "2026-03-01T18:01:00Z" });
    const without = await run("--labels", labels, "--places", bare, "--log", log);
    expect(without.account["set_aside"]).toMatchObject({ no_zone: 243 });
    expect(without.records).toEqual([]);
  });

  it("judges circuits of a log whose outlets follow one another as if it were mixed by time", async () => {
    const shared = file("shared.csv", "site,circuit,device_amps,volts,outlet\nAlder House,C1,15,120,O1\nAlder House,C1,15,120,O2\n");
    const row = (outlet: string, at: number) => `${new Date(Date.UTC(2026, 2, 1, 12) + at * 1000).toISOString()},${outlet},1,,,8,,,,`;
    const rows = (outlet: string) => Array.from({ length: 600 }, (_, at) => row(outlet, at));
    const [first, second] = [rows("O1"), rows("O2")];
    const header = "at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause";
    const mixed = file("mixed.csv", [header, ...first.flatMap((line, at) => [line, second[at]!])].join("\n"));
    const following = file("following.csv", [header, ...first, ...second, row("O2", 30)].join("\n"));
    const [one, other] = [
      await run("--labels", labels, "--places", shared, "--log", mixed),
      await run("--labels", labels, "--places", shared, "--log", following),
    ];
    expect(one.records).toEqual([expect.objectContaining({ kind: "circuit_overload", value: "16" })]);
    expect(other.text).toBe(one.text);
    expect(other.account).toEqual({ read: 1201, judged: 1200, set_aside: { late: 1 }, results: 1 });
  });

  it("says what in the labels could not be read, and goes on with the rest", async () => {
    const bad = file("labels.csv", "tag,site,outlet,receptacle,category,rated_watts\nT-100,Alder House,O1,1,space heater,1OOO\n");
    const { code, errors } = await run("--labels", bad, "--places", places, "--log", log);
    expect(code).toBe(1);
    expect(errors[0]).toContain("Line 2, rated_watts:");
  });
});

describe("screen used wrongly", () => {
  const refused = async (...args: string[]) => {
    const error = await screenCommand(args).catch((caught: unknown) => caught);
    expect(error).toBeInstanceOf(WrongUse);
    return (error as WrongUse).message;
  };

  it("says in one sentence what is wrong and how to mend it", async () => {
    expect(await refused("--labels", labels)).toMatch(/needs the labels, the places and the log/);
    expect(await refused("--labels", labels, "--places", places, "--log", join(folder, "nowhere.csv"))).toMatch(
      /nowhere\.csv cannot be read \(ENOENT\)/,
    );
    expect(await refused("--labels", labels, "--places", places, "--log", folder)).toMatch(/cannot be read \(EISDIR\)/);
    expect(await refused("--labels", labels, "--places", places, "--log", log, "--zone", "Chicago")).toMatch(
      /"Chicago" is no IANA time zone/,
    );
    expect(await refused("--everything")).toMatch(/Use: screen/);
    expect(await refused("--labels", "-", "--places", "-", "--log", log)).toMatch(/Only one/);
  });

  it("refuses a log without time or outlet columns, and an empty one", async () => {
    expect(await refused("--labels", labels, "--places", places, "--log", file("other.csv", "a,b\n1,2\n"))).toMatch(
      /no column "at" and "outlet"/,
    );
    expect(await refused("--labels", labels, "--places", places, "--log", file("empty.csv", ""))).toMatch(/empty/);
  });
});
