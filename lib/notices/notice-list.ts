import type { Notice, NoticeFormat } from "./notice";

/** A record of a list that could not be read. */
export interface SetAsideRecord {
  /** Line of the file the record begins on (CSV), or its 1-based place in the list (JSON, XML). */
  readonly line: number;
  /** One sentence: what is wrong and how to mend it. */
  readonly reason: string;
  /** The record as it stands, cut after a few thousand characters. */
  readonly content: string;
  /** How many records this one row stands for, where a list tells whole kinds of goods apart; otherwise it stands for itself. */
  readonly records?: number;
}

/** How many records of a list were set aside. */
export function recordsSetAside(setAside: readonly SetAsideRecord[]): number {
  return setAside.reduce((sum, { records = 1 }) => sum + records, 0);
}

export interface ReadNoticeList {
  readonly ok: true;
  readonly format: NoticeFormat;
  /** Who publishes the list: of a plain list the value of its `source` column. */
  readonly source: string;
  /** In list order. */
  readonly notices: readonly Notice[];
  readonly setAside: readonly SetAsideRecord[];
  /** The list is one issue or a short view of a longer one, so what it does not hold is not gone. */
  readonly isExtract?: true;
}

/** The whole input is refused; `problem` is one sentence that names what it is and how to mend it. */
export interface RefusedNoticeList {
  readonly ok: false;
  readonly problem: string;
  /** Where the document is no list but names some: their addresses, the newest first. */
  readonly reports?: readonly string[];
}

export type NoticeList = ReadNoticeList | RefusedNoticeList;

export function refused(problem: string): RefusedNoticeList {
  return { ok: false, problem };
}

const longestContent = 4_000;

export function setAside(line: number, reason: string, content: string): SetAsideRecord {
  return { line, reason, content: content.length > longestContent ? `${content.slice(0, longestContent)}…` : content };
}
