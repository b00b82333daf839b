/**
 * The end of a record at one time: how many entries it had, and the last one's hash. Written down elsewhere it proves later that
 * nothing up to there was changed and nothing was cut off.
 */
export interface RecordHead {
  readonly number: number;
  readonly hash: string;
}

/** A head as people write it down: `NUMBER:HASH`. */
export function headText({ number, hash }: RecordHead): string {
  return `${number}:${hash}`;
}

/** Reads a head that somebody wrote down; null when it is none. */
export function parseHead(text: string): RecordHead | null {
  const match = /^\s*(\d{1,12})\s*:\s*([0-9a-f]{64})\s*$/i.exec(text);
  return match?.[1] && match[2] ? { number: Number(match[1]), hash: match[2].toLowerCase() } : null;
}

/** Why a whole chain does not hold what was written down of it; null when it does. */
export function headProblem(
  head: RecordHead,
  entries: number,
  hashAtHead: string,
): { readonly number: number; readonly why: string } | null {
  if (entries < head.number) {
    const why = `the record ends before it, though it had ${head.number} entries when its head was written down: its end was cut off`;
    return { number: entries + 1, why };
  }
  if (hashAtHead === head.hash) return null;
  return { number: head.number, why: "it is not the entry whose hash was written down: the record was rewritten at or before it" };
}
