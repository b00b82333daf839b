import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "pw-load-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function load(args: readonly string[], input = "") {
  const env = { ...process.env, DATABASE_URL: `file:${join(folder, "registry.db")}` };
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", "tsx", "lib/cli/main.ts", "load", ...args], {
    env,
    input,
    encoding: "utf8",
  });
  return { status, stdout, stderr };
}

describe("the load command", () => {
  it("makes the database and an organisation where there is none, and prints the account as one line", () => {
    const file = join(folder, "labels.csv");
    writeFileSync(file, "tag,site,brand,model\nT-1,Alder House,Keldamar,HT-1\n");
    const first = load(["labels", file]);
    expect(first.status).toBe(0);
    expect(first.stdout).toMatch(/^labels: 1 rows read = 1 created \+ 0 updated \+ 0 unchanged \+ 0 set aside\..*\n$/);
    expect(first.stderr).toContain('"My organisation" was made');
    expect(load(["labels", file]).stdout).toBe("labels: 1 rows read = 0 created + 0 updated + 1 unchanged + 0 set aside\n");
  }, 60_000);

  it("reads standard input, exits 1 when rows are set aside, and says why on standard error", () => {
    const { status, stdout, stderr } = load(["places", "-"], "site,outlet\n,AH-1\nAlder House,AH-2\n");
    expect(status).toBe(1);
    expect(stdout).toContain("2 rows read = 1 created + 0 updated + 0 unchanged + 1 set aside");
    expect(stderr).toContain("line 2: site: the row does not say at which site it is");
  }, 60_000);

  const wrong: readonly (readonly [readonly string[], string])[] = [
    [["labels"], "load needs what to load and one file"],
    [["houses", "x.csv"], 'load cannot load "houses"'],
    [["labels", "no-such-file.csv"], "cannot be read (ENOENT)"],
    [["labels", "lib"], "is a folder"],
    [["labels", "package.json", "--fast"], "Unknown option"],
  ];
  for (const [args, sentence] of wrong) {
    it(`exits 2 with one sentence for: load ${args.join(" ")}`, () => {
      const { status, stdout, stderr } = load(args);
      expect([status, stdout]).toEqual([2, ""]);
      expect(stderr).toContain(sentence);
      expect(stderr.trim().split("\n").length).toBe(1);
    }, 60_000);
  }
});
