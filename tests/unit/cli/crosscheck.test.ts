import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Papa from "papaparse";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { WrongUse } from "@/lib/cli/command";
import { crosscheckCommand } from "@/lib/cli/crosscheck";

const notices = "tests/fixtures/matching/notices.csv";
let folder = "";

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "crosscheck-"));
});
afterEach(() => {
  rmSync(folder, { recursive: true });
  vi.restoreAllMocks();
});

function labelsFile(text: string): string {
  const file = join(folder, "labels.csv");
  writeFileSync(file, text);
  return file;
}

async function run(...args: string[]): Promise<{ code: number; rows: Record<string, string>[]; text: string }> {
  const out = join(folder, "out.csv");
  const code = await crosscheckCommand([...args, "--out", out]);
  const text = readFileSync(out, "utf8");
  return { code, text, rows: Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true }).data };
}

const labels = [
  "tag,category,brand,model,serial,made,label_text",
  "B2,ceramic heater,Velnost,5132,,2015-10,",
  "A1,ceramic heater,Velnost,5132,,,",
  ",pool vacuum,Tarnfeld,QN3312MAX,QN100M2301270417,,",
  "C3,pool vacuum,Tarnfeld,QN3312MAX,QN100M2302270417,,",
  "D4,multi-cooker,Lumivar,,,2018-01,Lumivar | MODEL SCCPPC600V1 | 120V~ 60Hz 1000W",
].join("\n");

describe("crosscheck with files", () => {
  it("writes the candidates in the labels' order under the agreed columns", async () => {
    const { code, rows, text } = await run("--labels", labelsFile(labels), "--notices", notices);
    expect(code).toBe(0);
    expect(text.startsWith("tag,brand,model,serial,notice,grade,score,reasons,ask\r\n")).toBe(true);
    expect(rows.map(({ tag, notice, grade }) => [tag, notice, grade])).toEqual([
      ["B2", "F-1", "covered"],
      ["A1", "F-1", "check_label"],
      ["", "F-2", "covered"],
      ["D4", "F-6", "covered"],
    ]);
    expect(rows[1]?.["ask"]).toContain("made");
    expect(rows[0]?.["ask"]).toBe("");
  });

  it("prints the pairs that were ruled out with --all", async () => {
    const { rows } = await run("--labels", labelsFile(labels), "--notices", notices, "--all");
    expect(rows.filter(({ tag }) => tag === "C3").map(({ notice, grade }) => [notice, grade])).toEqual([["F-2", "not_covered"]]);
  });

  it("reads several lists, and gives the same twice", async () => {
    const file = labelsFile(labels);
    const once = await run("--labels", file, "--notices", notices, "--notices", notices);
    const again = await run("--labels", file, "--notices", notices, "--notices", notices);
    expect(again.text).toBe(once.text);
    expect(once.rows.filter(({ tag }) => tag === "B2")).toHaveLength(2);
  });

  it("reads other headers, semicolons and a byte order mark", async () => {
    const text = "\uFEFFAsset tag;Type;Manufacturer;Model no.;Date of manufacture\r\nB2;ceramic heater;Velnost;5132;2015-10\r\n";
    const { rows } = await run("--labels", labelsFile(text), "--notices", notices);
    expect(rows.map(({ tag, grade }) => [tag, grade])).toEqual([["B2", "covered"]]);
  });

  it("sets aside a row that cannot be read, says why and goes on", async () => {
    const said: string[] = [];
    vi.spyOn(process.stderr, "write").mockImplementation((text) => said.push(String(text)) > 0);
    const { code, rows } = await run(
      "--labels",
      labelsFile(`${labels}\nE5,kettle,a,b,c,d,e,f,too many\nB9,ceramic heater,Velnost,5132,,2015-10,`),
      "--notices",
      notices,
    );
    expect(code).toBe(1);
    expect(said.join("")).toContain("set aside");
    expect(rows.at(-1)?.["tag"]).toBe("B9");
  });
});

describe("crosscheck used wrongly", () => {
  it.each([
    ["only labels", ["--labels", "x.csv"], "both"],
    ["an unknown option", ["--label", "x.csv"], "Use: crosscheck"],
    ["a list that is not there", ["--labels", "x.csv", "--notices", "/nowhere/list.json"], "cannot be read"],
    ["labels that are not there", ["--labels", "/nowhere/labels.csv", "--notices", notices], "cannot be read"],
    ["labels given as the list", ["--labels", "x.csv", "--notices", "tests/fixtures/matching/appliances.csv"], ""],
  ])("%s: one sentence, no output", async (_what, args, sentence) => {
    const failure = await crosscheckCommand([...args, "--out", join(folder, "out.csv")]).then(
      () => null,
      (error: unknown) => error,
    );
    expect(failure).toBeInstanceOf(WrongUse);
    expect((failure as WrongUse).message).toContain(sentence);
  });
});
