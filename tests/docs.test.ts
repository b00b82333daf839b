import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "./support/import-graph";

const readme = readFileSync(join(root, "README.md"), "utf8");
const developers = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
const main = readFileSync(join(root, "lib/cli/main.ts"), "utf8");
const bench = readFileSync(join(root, "tests/bench/main.ts"), "utf8");
const scripts = Object.keys((JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { scripts: Record<string, string> }).scripts);

const commands = [...main.matchAll(/^ {2}(\w+): async \(\) => \(await import/gm)].map((match) => match[1] ?? "");
const benches = [...bench.matchAll(/^ {2}"?([\w-]+)"?: \(\) => import/gm)].map((match) => match[1] ?? "");

describe("the documents", () => {
  it("found the commands and benchmarks it checks", () => {
    expect(commands).toContain("understand");
    expect(benches).toContain("load-labels");
  });

  it.each(commands)("README describes the command %s", (command) => {
    expect(readme).toContain(`\`${command}`);
  });

  it.each(benches)("DEVELOPERS describes the benchmark %s", (name) => {
    expect(developers).toContain(`\`${name}\``);
  });

  it.each(scripts.filter((name) => name !== "postinstall"))("README or DEVELOPERS describes npm run %s", (name) => {
    expect(readme + developers).toMatch(new RegExp(`npm (run (--silent )?)?${name}\\b`));
  });

  it("README opens with the job in one paragraph", () => {
    const paragraph = readme.split("\n\n")[1] ?? "";
    for (const word of ["appliance", "plugged in", "rating plate", "recalled", "prove"]) expect(paragraph).toContain(word);
  });
});
