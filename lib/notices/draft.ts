import type { CodeItem } from "./code-item";
import type { CodeWindow, MadeWindow, Span, SpanKind } from "./coverage";
import type { Passage } from "./passage";

/** What was found in the passages, before the parts are weighed against each other. */
export interface Draft {
  readonly models: FoundModel[];
  readonly serials: FoundWindow<CodeWindow>[];
  readonly dateCodes: FoundWindow<CodeWindow>[];
  readonly made: FoundWindow<MadeWindow>[];
  readonly upcs: string[];
  readonly spans: Span[];
}

export interface FoundModel {
  readonly passage: Passage;
  readonly item: CodeItem;
  /** `cue`: the text calls it a model; `name`: a model's name; `table`: a cell under such a heading; `part`: that of a part of the product; `weak`: only looks like one. */
  readonly evidence: "cue" | "name" | "table" | "part" | "weak";
  readonly excluded: boolean;
  /** Excluded only under a condition. */
  readonly conditional: boolean;
  /** Row of its table, to tie windows to. */
  readonly row: number | null;
}

export interface FoundWindow<W> {
  readonly window: W;
  readonly row: number | null;
}

export function emptyDraft(): Draft {
  return { models: [], serials: [], dateCodes: [], made: [], upcs: [], spans: [] };
}

export function span(passage: Passage, place: { start: number; end: number }, kind: SpanKind, reads: string): Span {
  const at = passage.index === null ? {} : { index: passage.index };
  return { field: passage.field, ...at, start: place.start, end: Math.min(place.end, passage.text.length), kind, reads };
}
