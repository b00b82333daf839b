const ordinals: Readonly<Record<string, number>> = {
  first: 1,
  second: 2,
  third: 3,
  fourth: 4,
  fifth: 5,
  sixth: 6,
  seventh: 7,
  eighth: 8,
  ninth: 9,
  tenth: 10,
  "1st": 1,
  "2nd": 2,
  "3rd": 3,
  "4th": 4,
  "5th": 5,
  "6th": 6,
  "7th": 7,
  "8th": 8,
  "9th": 9,
  "10th": 10,
};

const counts: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
};

/** `third` -> 3; null for any other word. */
export function ordinalOf(word: string): number | null {
  // Any word of a text may be asked for, also one that every object knows, such as "constructor".
  return Object.hasOwn(ordinals, word) ? (ordinals[word] ?? null) : null;
}

/** `two`, `2` -> 2; null for any other word. */
export function countOf(word: string): number | null {
  if (/^\d{1,2}$/.test(word)) return Number(word);
  return Object.hasOwn(counts, word) ? (counts[word] ?? null) : null;
}
