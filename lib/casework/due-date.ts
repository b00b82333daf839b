import type { SignalWord } from "@/lib/watch/screening-result";

const dayMs = 86_400_000;

/** Days from opening to the due date by signal word. */
export type DueDays = Readonly<Record<SignalWord, number>>;

/** The days where a site states none of its own. Own policy; no standard sets these. */
export const dueDays: DueDays = { DANGER: 1, WARNING: 7, CAUTION: 30, NOTICE: 90 };

/** The most days that a site may state: a danger does not wait for more than a week, and nothing for more than a year. */
export const mostDueDays: DueDays = { DANGER: 7, WARNING: 60, CAUTION: 180, NOTICE: 365 };

/** When a finding of this word is due that was opened, or raised to it, at `from`. */
export function dueDate(word: SignalWord, from: Date, days: DueDays = dueDays): Date {
  return new Date(from.getTime() + days[word] * dayMs);
}

/** A raised word brings the due date forward and never puts it off. */
export function dueAfterRaise(word: SignalWord, dueAt: Date, now: Date, days: DueDays = dueDays): Date {
  const sooner = dueDate(word, now, days);
  return sooner < dueAt ? sooner : dueAt;
}

/**
 * What is wrong with a site's own days, by signal word; empty when they will do: whole days, at least one, no more than may be, and a
 * stronger word never later than a weaker one.
 */
export function dueDaysProblems(days: DueDays): Partial<Record<SignalWord, string>> {
  const problems: Partial<Record<SignalWord, string>> = {};
  const words = Object.keys(mostDueDays) as SignalWord[];
  words.forEach((word, place) => {
    const stronger = words[place - 1];
    if (!Number.isInteger(days[word]) || days[word] < 1 || days[word] > mostDueDays[word])
      problems[word] = `Give whole days from 1 to ${mostDueDays[word]}.`;
    else if (stronger && days[stronger] > days[word]) problems[word] = `${word} cannot be due before ${stronger}.`;
  });
  return problems;
}
