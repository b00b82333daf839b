/** The published format a notice was read from. More join as readers of their own. */
export type NoticeFormat =
  | "us-web-service"
  | "us-website-export"
  | "canada-open-data"
  | "canada-recall-api"
  | "eu-safety-gate"
  | "plain-list";

/** One recall notice as its regulator published it. Texts are the publisher's own words, only unescaped, never edited. */
export interface Notice {
  /** Stable key of the record inside its list: the printed number, or `id:` and the record id; `#2`, `#3` ... appended when it occurs again. */
  readonly key: string;
  /** The number as printed, or `id:` and the record id where the list gives none. */
  readonly number: string;
  readonly recordId: string | null;
  readonly source: string;
  readonly format: NoticeFormat;
  /** Publication date, `YYYY-MM-DD`; a date of the list is never shifted by a time zone. */
  readonly date: string | null;
  readonly lastPublished: string | null;
  readonly title: string;
  readonly description: string;
  readonly productNames: readonly string[];
  /** Brand fields, where the list has any (the plain list). */
  readonly statedBrands: readonly string[];
  readonly makers: readonly string[];
  readonly importers: readonly string[];
  readonly distributors: readonly string[];
  readonly retailers: readonly string[];
  /** Structured columns of the plain list, as written; empty strings are dropped. */
  readonly statedModels: string | null;
  readonly statedSerials: string | null;
  readonly madeFrom: string | null;
  readonly madeTo: string | null;
  readonly upcs: readonly string[];
  readonly hazard: string | null;
  readonly remedy: string | null;
  readonly units: string | null;
  readonly incidents: string | null;
  readonly contact: string | null;
  readonly url: string | null;
}
