import type { Reason } from "@/lib/matching/candidate";
import type { Coverage, Span, SpanField, SpanKind } from "@/lib/notices/coverage";

/** How a kind of statement is marked: a line style and a letter, never colour alone. */
export type MarkKind = "model" | "serial" | "date" | "upc" | "not" | "where" | "unread";

export interface MarkLook {
  readonly letter: string;
  readonly words: string;
}

export const markLooks: Readonly<Record<MarkKind, MarkLook>> = {
  model: { letter: "M", words: "model" },
  serial: { letter: "S", words: "serial" },
  date: { letter: "D", words: "date" },
  upc: { letter: "U", words: "product number" },
  not: { letter: "NOT", words: "left out" },
  where: { letter: "W", words: "where to look" },
  unread: { letter: "?", words: "not understood" },
};

const markOf: Readonly<Partial<Record<SpanKind, MarkKind>>> = {
  excluded: "not",
  model: "model",
  serial: "serial",
  dateCode: "date",
  made: "date",
  upc: "upc",
  location: "where",
  unread: "unread",
};
/** Where statements overlap, the earlier kind is marked. */
const kindOrder = Object.keys(markOf) as SpanKind[];

export interface Mark {
  readonly kind: MarkKind;
  readonly reads: string;
  /** It agrees with the appliance that is looked at. */
  readonly agrees: boolean;
  /** The span's bounds in the field's text. */
  readonly from: number;
  readonly to: number;
}

/** A stretch of the notice's words, marked or plain. */
export interface Stretch {
  readonly start: number;
  readonly text: string;
  readonly mark: Mark | null;
}

export interface MarkedParagraph {
  readonly start: number;
  readonly stretches: readonly Stretch[];
  /** Our reading of the paragraph, each statement once. */
  readonly readings: readonly { readonly kind: MarkKind; readonly reads: readonly string[] }[];
}

const reasonField: Readonly<Partial<Record<SpanKind, Reason["field"]>>> = {
  model: "model",
  serial: "serial",
  dateCode: "dateCode",
  made: "made",
  upc: "upc",
  excluded: "exclusion",
};

/** Our reading of a statement in the words in which the comparison names it. */
function namedReading({ reads }: Span): string {
  const [from, to] = reads.split("..");
  if (to !== undefined) return from === to ? to : `${from || "any date"} to ${to || "any date"}`;
  return reads.endsWith("*") ? `beginning with ${reads.slice(0, -1)}` : reads;
}

function doesAgree(span: Span, reasons: readonly Reason[]): boolean {
  const field = reasonField[span.kind];
  const reason = reasons.find((candidate) => candidate.field === field);
  if (!reason || reason.onAppliance === null) return false;
  if (span.kind !== "excluded" && reason.weight <= 0) return false;
  return reason.inNotice === span.reads || reason.inNotice === namedReading(span);
}

function chosenSpans(spans: readonly Span[]): Span[] {
  const ordered = [...spans].sort((a, b) => kindOrder.indexOf(a.kind) - kindOrder.indexOf(b.kind) || a.start - b.start || b.end - a.end);
  const chosen: Span[] = [];
  for (const span of ordered) {
    if (!chosen.some((other) => span.start < other.end && other.start < span.end)) chosen.push(span);
  }
  return chosen.sort((a, b) => a.start - b.start);
}

function stretchesOf(text: string, from: number, to: number, spans: readonly Span[], reasons: readonly Reason[]): Stretch[] {
  const stretches: Stretch[] = [];
  let at = from;
  const plain = (end: number) => {
    if (end > at) stretches.push({ start: at, text: text.slice(at, end), mark: null });
    at = end;
  };
  for (const span of spans) {
    const start = Math.max(span.start, at);
    const end = Math.min(span.end, to);
    const kind = markOf[span.kind];
    if (kind === undefined || end <= start) continue;
    plain(start);
    stretches.push({
      start,
      text: text.slice(start, end),
      mark: { kind, reads: span.reads, agrees: doesAgree(span, reasons), from: span.start, to: span.end },
    });
    at = end;
  }
  plain(to);
  return stretches;
}

function paragraphBounds(text: string): { from: number; to: number }[] {
  const bounds: { from: number; to: number }[] = [];
  for (const match of text.matchAll(/[^\r\n]*\S[^\r\n]*/g)) bounds.push({ from: match.index, to: match.index + match[0].length });
  return bounds;
}

function readingsOf(spans: readonly Span[]): MarkedParagraph["readings"] {
  const byKind = new Map<MarkKind, Set<string>>();
  for (const span of spans) {
    const kind = markOf[span.kind];
    // where to look is said by the words themselves
    if (kind === undefined || kind === "where") continue;
    const reads = byKind.get(kind) ?? new Set<string>();
    byKind.set(kind, reads.add(span.reads));
  }
  return [...byKind].map(([kind, reads]) => ({ kind, reads: [...reads] }));
}

export interface MarkedField {
  readonly coverage: Coverage;
  readonly field: SpanField;
  readonly index?: number;
  /** The comparison with the appliance that is looked at, where there is one. */
  readonly reasons?: readonly Reason[];
}

/** The words of one field of a notice, cut where its statements begin and end; the words themselves are untouched. */
export function markStatements(text: string, { coverage, field, index, reasons = [] }: MarkedField): MarkedParagraph[] {
  const inField = coverage.spans.filter((span) => span.field === field && (index === undefined || (span.index ?? 0) === index));
  const chosen = chosenSpans(inField.filter(({ kind }) => markOf[kind] !== undefined));
  return paragraphBounds(text).map(({ from, to }) => {
    const within = inField.filter(({ start, end }) => start < to && end > from);
    const marked = chosen.filter(({ start, end }) => start < to && end > from);
    return { start: from, stretches: stretchesOf(text, from, to, marked, reasons), readings: readingsOf(within) };
  });
}

/** The kinds of marks that a coverage uses, for the legend. */
export function usedMarks(coverage: Coverage): MarkKind[] {
  const used = new Set(coverage.spans.map(({ kind }) => markOf[kind]));
  return (Object.keys(markLooks) as MarkKind[]).filter((kind) => used.has(kind));
}
