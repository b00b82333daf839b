/**
 * What a notice says it covers. In a pattern `?` is any one character, `#` one digit, `@` one letter, `*` any run,
 * also empty; everything else stands for itself.
 */

/** Ties a window to some of the models (patterns) or brands (`brand:NAME`) of the notice. */
interface Tied {
  readonly for?: readonly string[];
  /** How the values run, when the text says so: `YYWW`, `WWYY`, `YYYYMM`, `beginning` ... */
  readonly as?: string;
}
export interface CodeRange extends Tied {
  readonly from: string;
  readonly to: string;
}
export interface CodePattern extends Tied {
  readonly pattern: string;
}
/** A window over serial numbers or date codes, endpoints as printed. */
export type CodeWindow = CodeRange | CodePattern;
/** Whole days `YYYY-MM-DD`; an open end is null. */
export interface MadeWindow extends Tied {
  readonly from: string | null;
  readonly to: string | null;
}

/** The notice's text fields a statement can stand in. */
export type SpanField =
  | "title"
  | "description"
  | "productNames"
  | "statedModels"
  | "statedSerials"
  | "statedBrands"
  | "makers"
  | "upcs"
  | "made";
export type SpanKind = "brand" | "product" | "model" | "excluded" | "serial" | "dateCode" | "made" | "upc" | "location" | "unread";

/** Where in the notice a statement was found: UTF-16 offsets into the field's text (`index` for list fields). */
export interface Span {
  readonly field: SpanField;
  readonly index?: number;
  readonly start: number;
  readonly end: number;
  readonly kind: SpanKind;
  /** Our reading of it: a pattern, `from..to`, a brand, a date window. */
  readonly reads: string;
}

export interface ModelCoverage {
  /** `listed`: the patterns below; `all`: the text says all units; `none`: no model is stated. */
  readonly stated: "listed" | "all" | "none";
  readonly include: readonly string[];
  readonly exclude: readonly string[];
}

/** The coverage of one notice; written out as one JSON line. */
export interface Coverage {
  readonly notice: string;
  readonly brands: readonly string[];
  readonly products: readonly string[];
  readonly models: ModelCoverage;
  readonly serials: readonly CodeWindow[];
  readonly dateCodes: readonly CodeWindow[];
  readonly made: readonly MadeWindow[];
  /** Digits as printed with separators dropped. */
  readonly upcs: readonly string[];
  readonly spans: readonly Span[];
}
