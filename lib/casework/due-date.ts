import type { SignalWord } from "@/lib/watch/screening-result";

const dayMs = 86_400_000;

/** Days from opening to the due date by signal word. Own policy; no standard sets these. */
export const dueDays: Readonly<Record<SignalWord, number>> = { DANGER: 1, WARNING: 7, CAUTION: 30, NOTICE: 90 };

/** When a finding of this word is due that was opened, or raised to it, at `from`. */
export function dueDate(word: SignalWord, from: Date): Date {
  return new Date(from.getTime() + dueDays[word] * dayMs);
}

/** A raised word brings the due date forward and never puts it off. */
export function dueAfterRaise(word: SignalWord, dueAt: Date, now: Date): Date {
  const sooner = dueDate(word, now);
  return sooner < dueAt ? sooner : dueAt;
}
