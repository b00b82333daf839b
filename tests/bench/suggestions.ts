import Fuse from "fuse.js";
import { buildSuggestionIndex, type Suggestion } from "@/lib/registry/suggestion-index";
import type { BenchResult } from "./bench-result";
import { Random } from "./random";

const syllables = "kel da mar os ter vale sun dra ke quill mere tav ish cor van lin den bram ley hex pol ro wick fen har gal".split(" ");
const kinds = ["Ceramic Heaters", "Steam Kettles", "Tower Fans", "Dehumidifiers", "Toasters", "Blenders", "Air Fryers", "Table Lamps"];
const makerCount = 1500;
const modelsANotice = 3;
const queryCount = 200;
/** So many suggestions a page has room for. */
const shown = 14;

function makerName(random: Random): string {
  const name = Array.from({ length: 2 + random.below(2) }, () => random.pick(syllables)).join("");
  return `${name[0]?.toUpperCase()}${name.slice(1)}`;
}

const entry = (kind: Suggestion["kind"], label: string): Suggestion => ({ kind, label, detail: "", href: `/${kind}/${label}` });

/** Invented makers, models and notices as a search box knows them. */
function makeEntries(random: Random, notices: number): Suggestion[] {
  const makers = [...new Set(Array.from({ length: makerCount }, () => makerName(random)))];
  const entries = makers.map((maker) => entry("maker", maker));
  for (let number = 0; number < notices; number++) {
    const maker = random.pick(makers);
    entries.push(
      entry("notice", `${20 + (number % 12)}-${100 + number} ${maker} Recalls ${random.pick(kinds)} Due to Fire and Burn Hazards`),
    );
    for (let at = 0; at < modelsANotice; at++) {
      const code = `${maker.slice(0, 2).toUpperCase()}-${1000 + random.below(9000)}${random.pick([..."ABCD"])}`;
      entries.push(entry("model", `${maker} ${code}`));
    }
  }
  return [...new Map(entries.map((one) => [one.href, one])).values()];
}

/** One slip of the finger: two letters swapped, one left out, doubled, or another in its place. */
function misspell(random: Random, text: string): string {
  const at = 1 + random.below(Math.max(1, text.length - 2));
  const [head, here, next, tail] = [text.slice(0, at), text[at] ?? "", text[at + 1] ?? "", text.slice(at + 2)];
  const slips = [
    head + next + here + tail,
    head + next + tail,
    head + here + here + next + tail,
    `${head}${random.pick([..."aeiorstn"])}${next}${tail}`,
  ];
  return random.pick(slips);
}

interface Query {
  readonly typed: string;
  readonly wanted: string;
}

/** What a person types when they look for an entry: of a notice maker and product, one word of it misspelt. */
function makeQueries(random: Random, entries: readonly Suggestion[]): Query[] {
  return Array.from({ length: queryCount }, () => {
    const { kind, label, href } = random.pick(entries);
    const words = kind === "notice" ? label.split(" ").slice(0, 2) : label.split(" ");
    const wrong = random.below(words.length);
    return { typed: words.map((word, at) => (at === wrong ? misspell(random, word) : word)).join(" "), wanted: href };
  });
}

interface Measured extends Readonly<Record<string, number>> {
  readonly msAKey: number;
  readonly worstMs: number;
  readonly recall: number;
}

/** Every query typed letter by letter from the second on; found when the whole of it offers what was wanted. */
function measure(queries: readonly Query[], ask: (typed: string) => readonly Suggestion[]): Measured {
  for (const { typed } of queries.slice(0, 20)) ask(typed);
  const times: number[] = [];
  let found = 0;
  for (const { typed, wanted } of queries) {
    let offered: readonly Suggestion[] = [];
    for (let length = 2; length <= typed.length; length++) {
      const started = performance.now();
      offered = ask(typed.slice(0, length));
      times.push(performance.now() - started);
    }
    if (offered.some(({ href }) => href === wanted)) found++;
  }
  const mean = times.reduce((sum, time) => sum + time, 0) / times.length;
  const round = (time: number) => Math.round(time * 100) / 100;
  return { msAKey: round(mean), worstMs: round(Math.max(...times)), recall: found / queries.length };
}

/** The search box beside Fuse.js alone over the same entries, a key stroke at a time; Fuse.js alone gets a part of the queries. */
export function suggestionResults(notices: number): BenchResult[] {
  const random = new Random(20261125);
  const entries = makeEntries(random, notices);
  const queries = makeQueries(random, entries);
  const started = performance.now();
  const index = buildSuggestionIndex(entries);
  const indexMs = Math.round(performance.now() - started);
  const ask = (typed: string) => index.suggest(typed);
  const ours = measure(queries, ask);
  const fuse = new Fuse(entries, { keys: ["label"], threshold: 0.4, ignoreLocation: true });
  const few = queries.slice(0, 12);
  const theirs = measure(few, (typed) => {
    const words = typed.split(" ").filter((word) => word !== "");
    return fuse.search({ $and: words.map((label) => ({ label })) }, { limit: shown }).map(({ item }) => item);
  });
  const measureName = `search box over ${notices} notices, ${entries.length} entries, a key stroke / Fuse.js alone`;
  return [
    {
      bench: "pages",
      measure: measureName,
      ratio: ours.msAKey / theirs.msAKey,
      ours: { ...ours, recallOfTheirs: measure(few, ask).recall, indexMs },
      theirs: { ...theirs, queries: few.length },
      n: queryCount,
    },
  ];
}
