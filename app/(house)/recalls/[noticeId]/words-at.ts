import { fieldText, type Quoted } from "@/lib/notices/correction";
import type { Coverage, Span, SpanField, SpanKind } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { type Statement, statementsOf, statementWords } from "@/lib/notices/statement";
import type { WordsAt } from "../_parts/marked-notice";

const fields: readonly SpanField[] = [
  "title",
  "description",
  "productNames",
  "statedModels",
  "statedSerials",
  "statedBrands",
  "makers",
  "upcs",
  "made",
];

/** Words of a notice as an address carries them: `description.0.86.121`. */
export function wordsAddress({ field, index, start, end }: WordsAt): string {
  return [field, index, start, end].join(".");
}

/** The words that an address names; null where it names none of this notice. */
export function readWords(notice: Notice, address: string | undefined): (Quoted & { readonly end: number }) | null {
  const [name, ...numbers] = (address ?? "").split(".");
  const field = fields.find((one) => one === name);
  const [index, start, end] = numbers.map(Number);
  if (!field || index === undefined || start === undefined || end === undefined || numbers.length !== 3) return null;
  if (![index, start, end].every((one) => Number.isInteger(one) && one >= 0)) return null;
  const quote = fieldText(notice, field, index)?.slice(start, end) ?? "";
  return quote === "" ? null : { field, index, start, end, quote };
}

const isIn = (span: Span, words: Quoted & { readonly end: number }) =>
  span.field === words.field && (span.index ?? 0) === (words.index ?? 0) && span.start < words.end && words.start < span.end;

const statementOf: Readonly<Partial<Record<SpanKind, Statement["kind"]>>> = {
  model: "model",
  excluded: "excluded",
  serial: "serial",
  dateCode: "dateCode",
  made: "made",
  upc: "upc",
  brand: "brand",
  product: "product",
};

function isReadAs(statement: Statement, span: Span): boolean {
  if (statement.kind !== statementOf[span.kind]) return false;
  if ("window" in statement) {
    const { window } = statement;
    return span.reads === ("pattern" in window ? window.pattern : `${window.from ?? ""}..${window.to ?? ""}`);
  }
  const words = statementWords(statement);
  return span.reads === words || span.reads.split(" ").includes(words);
}

/** What was read out of some words: the statements of the coverage, and whether part of them was not understood. */
export function readFrom(coverage: Coverage, words: Quoted & { readonly end: number }): { statements: Statement[]; isUnread: boolean } {
  const spans = coverage.spans.filter((span) => isIn(span, words));
  return {
    statements: statementsOf(coverage).filter((statement) => spans.some((span) => isReadAs(statement, span))),
    isUnread: spans.some(({ kind }) => kind === "unread"),
  };
}
