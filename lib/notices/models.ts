import type { ModelCoverage, Span } from "./coverage";
import { type Draft, type FoundModel, span } from "./draft";
import { isGluedRun } from "./glued-run";
import { modelPatterns } from "./model-patterns";
import type { WildcardMeaning } from "./wildcards";

export interface Models {
  readonly coverage: ModelCoverage;
  readonly spans: readonly Span[];
  /** Patterns of each row of a table, to tie its windows to. */
  readonly rows: ReadonlyMap<number, readonly string[]>;
}

interface Read {
  readonly found: FoundModel;
  readonly patterns: readonly string[];
}

/**
 * Weighs the models that were found. Numbers come before names, and both before what only looks like a code. A model
 * said to be not covered is excluded even where it stands in a list as well, unless that is under a condition.
 */
export function weighModels(draft: Draft, meaning: WildcardMeaning, all: boolean): Models {
  const printed = draft.models.map((model) => model.item.from);
  // A run of several values that could not be told apart is no model; its place is left for a person to read.
  const whole = draft.models.filter(({ item }) => !isGluedRun(item.from) && !isGluedRun(item.to ?? ""));
  const read = whole.map((found) => ({ found, patterns: modelPatterns(found.item, meaning, printed) }));
  const included = strongest(read.filter(({ found }) => !found.excluded && !isWindowValue(found, draft)));
  const includes = new Set(included.flatMap(({ patterns }) => patterns));
  const excluded = read.filter(
    ({ found, patterns }) => found.excluded && !(found.conditional && patterns.some((pattern) => includes.has(pattern))),
  );
  const excludes = new Set(excluded.flatMap(({ patterns }) => patterns));
  const include = [...includes].filter((pattern) => !excludes.has(pattern) && !isSaidAgain(pattern, includes));
  const spans = [
    ...included.filter(({ patterns }) => patterns.some((pattern) => !excludes.has(pattern))).map((one) => spanOf(one, "model")),
    ...excluded.map((one) => spanOf(one, "excluded")),
  ];
  const stated = include.length > 0 ? "listed" : all ? "all" : "none";
  return { coverage: { stated, include, exclude: [...excludes] }, spans, rows: rowsOf(included) };
}

/** What only looks like a model and was read as a serial number, date code or product code at the same place. */
function isWindowValue({ evidence, passage, item }: FoundModel, draft: Draft): boolean {
  if (evidence !== "weak") return false;
  return draft.spans.some(
    (one) =>
      one.field === passage.field &&
      (one.index ?? null) === passage.index &&
      one.start < item.end &&
      one.end > item.start &&
      (one.kind === "serial" || one.kind === "dateCode" || one.kind === "upc"),
  );
}

/** The same code with a stray blank, or one model of a series that is included whole. */
function isSaidAgain(pattern: string, includes: ReadonlySet<string>): boolean {
  return includes.has(`${pattern}*`) || (pattern.includes(" ") && includes.has(pattern.replace(" ", "")));
}

function strongest(read: readonly Read[]): readonly Read[] {
  const numbered = read.filter(({ found }) => found.evidence === "cue" || found.evidence === "table");
  if (numbered.length > 0) return numbered;
  const named = read.filter(({ found }) => found.evidence === "name");
  if (named.length > 0) return named;
  const parts = read.filter(({ found }) => found.evidence === "part");
  return parts.length > 0 ? parts : read.filter(({ found }) => found.evidence === "weak");
}

function spanOf({ found, patterns }: Read, kind: "model" | "excluded"): Span {
  return span(found.passage, found.item, kind, patterns.join(" "));
}

function rowsOf(read: readonly Read[]): Map<number, string[]> {
  const rows = new Map<number, string[]>();
  for (const { found, patterns } of read) if (found.row !== null) rows.set(found.row, [...(rows.get(found.row) ?? []), ...patterns]);
  return rows;
}
