import type { Shortcoming } from "./inspection-judging";

/** A paper that a person or an instrument needs, as it was on the day; null `validUntil` has no end. */
export interface Paper {
  readonly words: string;
  readonly validUntil: Date | null;
}

const day = (at: Date) => at.toISOString().slice(0, 10);

/** Whether a paper holds on a day: its last day still counts. */
export function holdsOn(validUntil: Date | null, at: Date): boolean {
  return validUntil === null || day(validUntil) >= day(at);
}

/**
 * What the papers lack. The inspection is taken all the same and marked: refusing it would lose a danger that was seen. Without valid
 * papers it is limited, so that it does not count as a pass and does not move the due date.
 */
export function paperShortcomings(given: {
  readonly competences: readonly Paper[];
  /** The instruments that were used. */
  readonly instruments: readonly Paper[];
  readonly hasFigures: boolean;
  readonly at: Date;
}): Shortcoming[] {
  const { competences, instruments, hasFigures, at } = given;
  const short: Shortcoming[] = [];
  if (competences.length === 0) short.push({ sentence: "No competence of the inspector is on record." });
  else if (!competences.some(({ validUntil }) => holdsOn(validUntil, at)))
    short.push({ sentence: `The inspector's competence had expired: ${competences.map(({ words }) => words).join(", ")}.` });
  if (hasFigures && instruments.length === 0) short.push({ sentence: "No instrument is named for the figures." });
  for (const { words, validUntil } of instruments)
    if (!holdsOn(validUntil, at)) short.push({ sentence: `The calibration of ${words} had expired on ${day(validUntil as Date)}.` });
  return short;
}
