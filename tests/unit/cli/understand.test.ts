import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../..", import.meta.url));
const fixture = (name: string) => join(root, "tests/fixtures/notices", name);
let folder = "";

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "understand-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function run(args: string[], input?: string) {
  return spawnSync(process.execPath, ["node_modules/tsx/dist/cli.mjs", "lib/cli/main.ts", "understand", ...args], {
    cwd: root,
    encoding: "utf8",
    ...(input === undefined ? {} : { input }),
    env: { ...process.env, DATABASE_URL: "file:/nowhere/none.db" },
  });
}

describe("the command understand", () => {
  it("prints a coverage line for each record in list order, without a database", () => {
    const { stdout, status } = run([fixture("invented-export.csv")]);
    const lines = stdout
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as { notice: string; models: { include: string[] } });
    expect(lines.map((line) => line.notice)).toEqual(["31-201", "31-202"]);
    expect(lines[0]?.models.include).toEqual(["TJ4411ST", "TJ4413ST"]);
    expect(status).toBe(0);
  });

  it("ends with 1 and the reason where a record was set aside", () => {
    const { stdout, stderr, status } = run([fixture("invented-service.json")]);
    expect(stdout.trimEnd().split("\n")).toHaveLength(2);
    expect(stderr).toContain("Record 3");
    expect(status).toBe(1);
  });

  it("writes to a file with --out and reads standard input as -", () => {
    const out = join(folder, "coverage.jsonl");
    const { stdout, status } = run(["-", "--out", out], readFileSync(fixture("invented-export.csv"), "utf8"));
    expect([stdout, status]).toEqual(["", 0]);
    expect(readFileSync(out, "utf8").trimEnd().split("\n")).toHaveLength(2);
  });

  const wrong: [string, () => string[]][] = [
    ["no file named", () => []],
    ["two files named", () => ["a", "b"]],
    ["an unknown option", () => ["a", "--colour"]],
    ["a file that is not there", () => [join(folder, "absent.json")]],
    ["a web page", () => [written("page.html", "<html></html>")]],
    ["an error document", () => [written("error.json", '[{"RecallID":0,"Title":"Error retrieving Recalls: x"}]')]],
    ["a folder that is not there for --out", () => [fixture("invented-export.csv"), "--out", join(folder, "no/such/file")]],
  ];
  it.each(wrong)("ends with 2 and one sentence for %s", (_name, args) => {
    const { stdout, stderr, status } = run(args());
    expect(stdout).toBe("");
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(status).toBe(2);
  });
});

function written(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}
