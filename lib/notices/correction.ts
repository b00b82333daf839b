import { windowText } from "./code-windows";
import type { Coverage, Span, SpanField, SpanKind } from "./coverage";
import type { Notice } from "./notice";
import { type Statement, statementKey, statementsOf } from "./statement";

/** Words of a notice that a correction rests on: where they began, and the words themselves, so that they are found again after an amendment. */
export interface Quoted {
  readonly field: SpanField;
  readonly index?: number;
  readonly start: number;
  readonly quote: string;
}

/** A person's correction of a reading. `dismiss` says that a passage which was not understood holds nothing to compare. */
export type Correction =
  | { readonly act: "add"; readonly statement: Statement; readonly passage: Quoted | null }
  | { readonly act: "remove"; readonly statement: Statement; readonly passage: null }
  | { readonly act: "dismiss"; readonly statement: null; readonly passage: Quoted };

/** What has become of a correction since: it still does something, what it took out is gone, or what it added is read now. */
export type CorrectionEffect = "in force" | "nothing left to take out" | "read by now" | "words gone";

/** The text of a field of the notice; null where it has none. */
export function fieldText(notice: Notice, field: SpanField, index?: number): string | null {
  if (field === "made") return null;
  const text = notice[field];
  return text === null || typeof text === "string" ? text : (text[index ?? 0] ?? null);
}

/** Where the quoted words stand in the notice as it reads now: where they stood, else the one place they occur; null where there is none. */
export function findQuoted(notice: Notice, { field, index, start, quote }: Quoted): { start: number; end: number } | null {
  const text = fieldText(notice, field, index);
  if (text === null || quote === "") return null;
  if (text.startsWith(quote, start)) return { start, end: start + quote.length };
  const first = text.indexOf(quote);
  return first < 0 || text.indexOf(quote, first + 1) >= 0 ? null : { start: first, end: first + quote.length };
}

const spanKinds: Readonly<Partial<Record<Statement["kind"], SpanKind>>> = {
  model: "model",
  excluded: "excluded",
  serial: "serial",
  dateCode: "dateCode",
  made: "made",
  upc: "upc",
  brand: "brand",
  product: "product",
};

function readsOf(statement: Statement): string {
  if (statement.kind === "all_models") return "all models";
  if ("pattern" in statement) return statement.pattern;
  return "window" in statement ? windowText(statement.window) : statement.text;
}

/** However it is printed. */
const folded = (text: string) => text.toUpperCase().replace(/[^\p{L}\p{N}?#@*.]/gu, "");

/** The spans without what was taken out; of one that reads several models only that model goes. */
function withoutRead(spans: readonly Span[], taken: readonly Statement[]): Span[] {
  return taken.reduce<Span[]>(
    (left, statement) => {
      const kind = spanKinds[statement.kind];
      const reads = folded(readsOf(statement));
      return left.flatMap((span) => {
        if (span.kind !== kind) return [span];
        if (folded(span.reads) === reads) return [];
        const others = span.reads.split(" ").filter((one) => folded(one) !== reads);
        return [others.length > 0 ? { ...span, reads: others.join(" ") } : span];
      });
    },
    [...spans],
  );
}

function addedSpans(notice: Notice, corrections: readonly Correction[]): Span[] {
  return corrections.flatMap((correction) => {
    if (correction.act !== "add" || correction.passage === null) return [];
    const kind = spanKinds[correction.statement.kind];
    const place = findQuoted(notice, correction.passage);
    if (!kind || !place) return [];
    const { field, index } = correction.passage;
    return [{ field, ...(index === undefined ? {} : { index }), ...place, kind, reads: readsOf(correction.statement) }];
  });
}

/** Whether a person has dealt with these words, so that they are not "not understood" any more. */
function isDealtWith(span: Span, places: readonly (Quoted & { readonly end: number })[]): boolean {
  return places.some(
    (place) => place.field === span.field && (place.index ?? 0) === (span.index ?? 0) && place.start < span.end && span.start < place.end,
  );
}

function without(statements: readonly Statement[], corrections: readonly Correction[]): Statement[] {
  const removed = new Set(corrections.flatMap(({ act, statement }) => (act === "remove" ? [statementKey(statement)] : [])));
  return statements.filter((statement) => !removed.has(statementKey(statement)));
}

/** What was added and is not there anyway, each once, in a fixed order. */
function addedStatements(corrections: readonly Correction[], kept: readonly Statement[]): Statement[] {
  const added = new Map(
    corrections.flatMap(({ act, statement }) => (act === "add" ? [[statementKey(statement), statement] as const] : [])),
  );
  for (const statement of kept) added.delete(statementKey(statement));
  return [...added].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, statement]) => statement);
}

function collect(
  statements: readonly Statement[],
): Pick<Coverage, "models" | "serials" | "dateCodes" | "made" | "upcs" | "brands" | "products"> {
  const patterns = (kind: "model" | "excluded") => statements.flatMap((one) => (one.kind === kind ? [one.pattern] : []));
  const windows = (kind: "serial" | "dateCode") => statements.flatMap((one) => (one.kind === kind ? [one.window] : []));
  const texts = (kind: "upc" | "brand" | "product") => statements.flatMap((one) => (one.kind === kind ? [one.text] : []));
  const isAll = statements.some(({ kind }) => kind === "all_models");
  const include = isAll ? [] : patterns("model");
  return {
    brands: texts("brand"),
    products: texts("product"),
    models: { stated: isAll ? "all" : include.length > 0 ? "listed" : "none", include, exclude: patterns("excluded") },
    serials: windows("serial"),
    dateCodes: windows("dateCode"),
    made: statements.flatMap((one) => (one.kind === "made" ? [one.window] : [])),
    upcs: texts("upc"),
  };
}

/**
 * A reading with a person's corrections over it: what they took out is gone, what they added is there, and passages they dealt with
 * are no longer "not understood". Corrections of what the reading no longer says do nothing. Their order says nothing.
 */
export function applyCorrections(notice: Notice, reading: Coverage, corrections: readonly Correction[]): Coverage {
  if (corrections.length === 0) return reading;
  const kept = without(statementsOf(reading), corrections);
  const added = addedStatements(corrections, kept);
  const places = corrections.flatMap(({ passage }) => {
    const place = passage && findQuoted(notice, passage);
    return passage && place ? [{ ...passage, ...place }] : [];
  });
  const removed = corrections.flatMap(({ act, statement }) => (act === "remove" ? [statement] : []));
  const spans = withoutRead(reading.spans, removed).filter((span) => span.kind !== "unread" || !isDealtWith(span, places));
  return { ...reading, ...collect([...kept, ...added]), spans: [...spans, ...addedSpans(notice, corrections)] };
}

/** What has become of a correction under a reading. */
export function effectOf(notice: Notice, reading: Coverage, correction: Correction): CorrectionEffect {
  if (correction.act === "dismiss") return findQuoted(notice, correction.passage) ? "in force" : "words gone";
  const isRead = statementsOf(reading).some((statement) => statementKey(statement) === statementKey(correction.statement));
  if (correction.act === "remove") return isRead ? "in force" : "nothing left to take out";
  return isRead ? "read by now" : "in force";
}
