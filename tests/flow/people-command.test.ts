import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { WrongUse } from "@/lib/cli/command";
import { peopleCommand } from "@/lib/cli/people";

const root = join(import.meta.dirname, "../..");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "pw-command-"));
  writeFileSync(join(folder, "password"), "copper kettle morning\nsecond line\n");
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Runs the product's command line as npm does, on a database of the test's own. */
function platewarden(args: readonly string[], extra: { input?: string; database?: string } = {}) {
  const env = { ...process.env, DATABASE_URL: extra.database ?? `file:${join(folder, "people.db")}` };
  const run = spawnSync(process.execPath, ["--import", "tsx", "lib/cli/main.ts", ...args], {
    cwd: root,
    env,
    encoding: "utf8",
    input: extra.input ?? "",
  });
  return { status: run.status, out: run.stdout, err: run.stderr };
}

const who = (email: string, name: string) => ["--email", email, "--name", name];
const passwordFile = () => ["--password-file", join(folder, "password")];

describe("migrate", () => {
  it("prints what was applied, then that nothing is left", () => {
    const first = platewarden(["migrate"]);
    expect(first).toMatchObject({ status: 0, err: "" });
    expect(first.out).toMatch(/^applied 0001_first\n/);
    expect(platewarden(["migrate"])).toEqual({ status: 0, out: "Nothing to apply: the database is up to date.\n", err: "" });
  });

  it("refuses an argument and an address that is no database's with one sentence", () => {
    expect(platewarden(["migrate", "now"])).toMatchObject({
      status: 2,
      out: "",
      err: expect.stringMatching(/takes no arguments/) as string,
    });
    const wrong = platewarden(["migrate"], { database: "mysql://x" });
    expect(wrong).toMatchObject({ status: 2, out: "", err: expect.stringMatching(/^DATABASE_URL must begin with .*\n$/) as string });
  });
});

describe("people", () => {
  it("refuses a weak password and a first person who is no administrator, on a database that is not there yet", () => {
    const fresh = { database: `file:${join(folder, "fresh.db")}` };
    const add = ["people", "add", ...who("r.amsel@linden.example", "R. Amsel")];
    expect(platewarden([...add, "--role", "manager", ...passwordFile()], fresh)).toMatchObject({
      status: 2,
      err: expect.stringMatching(/must be its administrator/) as string,
    });
    expect(platewarden([...add, "--role", "administrator"], { ...fresh, input: "short\n" })).toMatchObject({
      status: 2,
      out: "",
      err: "The password has 5 characters: take at least 12, a few words for example.\n",
    });
    expect(platewarden(["people", "list"], fresh)).toMatchObject({
      status: 2,
      err: expect.stringMatching(/no organisation yet/) as string,
    });
  });

  it("makes the organisation with its administrator, adds others by file or pipe, lists, changes and ends them", () => {
    const first = platewarden([
      "people",
      "add",
      ...who("r.amsel@linden.example", "R. Amsel"),
      "--role",
      "administrator",
      "--organisation",
      "Linden Estates",
      ...passwordFile(),
    ]);
    expect(first).toEqual({
      status: 0,
      err: "",
      out: `Made the organisation "Linden Estates" and added R. Amsel <r.amsel@linden.example> as its administrator.\n`,
    });
    const second = platewarden(["people", "add", ...who("s.vey@linden.example", "S. Vey"), "--role", "surveyor"], {
      input: "silver spoon evening\n",
    });
    expect(second).toMatchObject({ status: 0, out: `Added S. Vey <s.vey@linden.example> as surveyor to "Linden Estates".\n` });
    expect(platewarden(["people", "set-role", "--email", "s.vey@linden.example", "--role", "inspector"])).toMatchObject({ status: 0 });
    expect(platewarden(["people", "list"]).out).toBe(
      "email\tname\trole\tsites\tstate\nr.amsel@linden.example\tR. Amsel\tadministrator\tall sites\tactive\ns.vey@linden.example\tS. Vey\tinspector\tall sites\tactive\n",
    );
    expect(platewarden(["people", "set-password", "--email", "s.vey@linden.example", ...passwordFile()])).toMatchObject({ status: 0 });
    expect(platewarden(["people", "end", "--email", "s.vey@linden.example"])).toMatchObject({ status: 0 });
    expect(platewarden(["people", "list"]).out).toMatch(/s\.vey@linden\.example\tS\. Vey\tinspector\tall sites\tended /);
  });

  it.each([
    [["people"], /Say what to do/],
    [["people", "dance"], /no "people dance"/],
    [["people", "add", "--email", "x@y.example"], /needs --name/],
    [["people", "add", ...who("x@y.example", "X"), "--role", "king"], /"king" is no role/],
    [["people", "add", ...who("x@y.example", "X"), "--role", "manager", "--password-file", "/nowhere/at/all"], /cannot be read/],
    [["people", "add", ...who("x@y.example", "X"), "--role", "manager", "--site", "Nowhere"], /no site "Nowhere"/],
    [["people", "add", ...who("x@y.example", "X"), "--role", "manager", "--organisation", "Other"], /there is no "Other" yet/],
    [["people", "list", "--loud"], /--loud/],
    [["people", "end", "--email", "nobody@linden.example"], /Nobody with the address/],
    [["people", "end", "--email", "r.amsel@linden.example"], /last administrator/],
    [["people", "set-role", "--email", "r.amsel@linden.example", "--role", "manager"], /last administrator/],
  ])("says in one sentence what is wrong with %j", async (args, sentence) => {
    // In this process, because every start of the command line takes a second; the exit code 2 of `WrongUse` is shown above.
    vi.stubEnv("DATABASE_URL", `file:${join(folder, "people.db")}`);
    const problem = await peopleCommand(args.slice(1)).then(
      () => null,
      (error: unknown) => error,
    );
    vi.unstubAllEnvs();
    expect(problem).toBeInstanceOf(WrongUse);
    expect((problem as WrongUse).message).toMatch(sentence);
    expect((problem as WrongUse).message).not.toMatch(/\n/);
  });
});
