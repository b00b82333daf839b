import type { SignalWord } from "@/lib/watch/screening-result";

/** Signal words, strongest first, with what each says (ANSI Z535.6 and ISO 3864-2, from memory). */
export const signalWordMeanings: Readonly<Record<SignalWord, string>> = {
  DANGER: "A hazard that will cause death or serious injury if it is not avoided.",
  WARNING: "A hazard that could cause death or serious injury if it is not avoided.",
  CAUTION: "A hazard that could cause minor or moderate injury if it is not avoided.",
  NOTICE: "Something to be done that is not about injury.",
};

export const signalWords = Object.keys(signalWordMeanings) as readonly SignalWord[];

export function isSignalWord(text: string): text is SignalWord {
  return Object.hasOwn(signalWordMeanings, text);
}

/** The stronger of two words. */
export function strongerWord(a: SignalWord, b: SignalWord): SignalWord {
  return signalWords.indexOf(a) <= signalWords.indexOf(b) ? a : b;
}

/** Whether `a` says more than `b`. */
export function isStronger(a: SignalWord, b: SignalWord): boolean {
  return signalWords.indexOf(a) < signalWords.indexOf(b);
}

/** The worst that the hazard can credibly do. */
export type Severity = "serious" | "minor" | "none";

/** Whether anybody is near it while it is live: it is in use, nobody knows where it is, or it was taken out of use. */
export type Exposure = "in use" | "not known" | "out of use";

/**
 * The word by severity and exposure. The standards' words differ by what can happen and how surely: a serious hazard with people
 * beside it is DANGER; the same hazard where nobody knows that it is in use could still injure, so WARNING; taken out of use
 * it stays WARNING until it is settled, because it can be plugged in again.
 */
export const signalWordTable: Readonly<Record<Severity, Readonly<Record<Exposure, SignalWord>>>> = {
  serious: { "in use": "DANGER", "not known": "WARNING", "out of use": "WARNING" },
  minor: { "in use": "CAUTION", "not known": "CAUTION", "out of use": "NOTICE" },
  none: { "in use": "NOTICE", "not known": "NOTICE", "out of use": "NOTICE" },
};

export function signalWordFor(severity: Severity, exposure: Exposure): SignalWord {
  return signalWordTable[severity][exposure];
}

/** Hazard words of recall notices by what they can do; read in this order, the first that occurs counts. */
const hazardWords: readonly { readonly severity: Severity; readonly words: RegExp }[] = [
  {
    severity: "serious",
    words:
      /\b(fire|flames?|ignit\w*|catch(es)? fire|burst into|explo\w+|electrocut\w*|electric(al)? shock|shock|death|die[sd]?|fatal|carbon monoxide|poison\w*|chok\w+|suffocat\w+|asphyxia\w*|strangul\w+|entrap\w*|drown\w*|amputat\w*|serious(ly)? (injur\w+|burn\w*)|severe)\b/i,
  },
  {
    severity: "minor",
    words: /\b(burn\w*|lacerat\w*|cut|cuts|injur\w*|fall|falls|tip[- ]?over|overheat\w*|melt\w*|smok\w*|hot|impact|pinch\w*|leak\w*)\b/i,
  },
];

/**
 * What a recall's hazard statement can do to a person. A notice that names no known hazard counts as serious: a regulator recalled
 * the thing, and silence is not a reason to say less.
 */
export function recallSeverity(hazard: string | null): Severity {
  return hazardWords.find(({ words }) => words.test(hazard ?? ""))?.severity ?? "serious";
}

/** The word of a confirmed recall match. */
export function recallSignalWord(hazard: string | null, exposure: Exposure): SignalWord {
  return signalWordFor(recallSeverity(hazard), exposure);
}
