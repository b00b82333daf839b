import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { noEdition, type RuleSource, sourceWords } from "@/lib/electrical/rule-source";

const folder = join(import.meta.dirname, "../../../lib/electrical");
const files = readdirSync(folder).filter((name) => name.endsWith(".ts"));

function isSource(value: object): value is RuleSource {
  return ["standard", "edition", "clause", "confirmed"].every((name) => Object.hasOwn(value, name));
}

/** Every source that can be reached from what a file exports, with the way to it. */
function sourcesIn(value: unknown, way: string, seen = new Set<unknown>()): [string, RuleSource][] {
  if (value === null || typeof value !== "object" || seen.has(value)) return [];
  seen.add(value);
  if (isSource(value)) return [[way, value]];
  return Object.entries(value).flatMap(([name, part]) => sourcesIn(part, `${way}.${name}`, seen));
}

const exported = await Promise.all(files.map(async (name) => [name, (await import(join(folder, name))) as object] as const));
const sources = exported.flatMap(([name, module]) => Object.entries(module).flatMap(([key, value]) => sourcesIn(value, `${name} ${key}`)));

describe("every source of a rule", () => {
  it.each(sources)("%s names standard, edition and clause, and says whether it was confirmed", (_, source) => {
    for (const name of ["standard", "edition", "clause"] as const) expect(source[name].trim()).not.toBe("");
    const isOwn = source.standard.includes("no source");
    expect(source.edition === noEdition).toBe(isOwn);
    expect(sourceWords(source).endsWith("(from memory)")).toBe(!source.confirmed && !isOwn);
  });

  it("is found where limits stand", () => {
    const where = new Set(sources.map(([way]) => way.split(" ")[0]));
    for (const name of ["deviation-tables", "deviation-sets", "circuit-limits", "device-curve", "device-instant", "plug-systems"])
      expect(where).toContain(`${name}.ts`);
  });
});

/** The constants of a file that hold a figure, each with the comment before it; patterns of text are none. */
function figuresOf(text: string): { name: string; comment: string; body: string }[] {
  const constants = text.matchAll(/(\/\*\*(?:[^*]|\*(?!\/))*\*\/\n)?^(?:export )?const (\w+)([^;]*);$/gm);
  return [...constants].flatMap(([, comment = "", name = "", rest = ""]) => {
    if (/^\s*=\s*\//.test(rest)) return [];
    const body = rest.replace(/"[^"]*"|`[^`]*`|\/(?:\\.|[^/\n])+\/[a-z]*/g, "");
    const figures = body.match(/(?<![\w.])\d+(?:\.\d+)?(?:e\d+)?/g) ?? [];
    // Nothing is decided by a zero, a one or a ten.
    return figures.some((figure) => ![0, 1, 10].includes(Number(figure))) && !rest.includes("=>") ? [{ name, comment, body: rest }] : [];
  });
}

const vouched =
  /no source|from memory|as quoted|own choice|own model|physics|by definition|RuleSource|source[s]?:|NEC|IEC|UL \d|ANSI|BS \d|EN \d|ISO|IEEE/i;

describe("every figure of the trade", () => {
  it.each(files)("in %s says where it comes from, or stands in a table that does", (name) => {
    const text = readFileSync(join(folder, name), "utf8");
    const silent = figuresOf(text).filter(({ comment, body }) => !vouched.test(comment + body));
    expect(silent.map((one) => one.name)).toEqual([]);
  });
});
