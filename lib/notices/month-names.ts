const names = ["january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"];

/** `September`, `Sept.`, `Sep` -> 9; null for any other word. */
export function monthNumber(word: string): number | null {
  const bare = word.toLowerCase().replace(/\.$/, "");
  if (bare.length < 3) return null;
  if (bare === "sept") return 9;
  const at = names.findIndex((name) => name === bare || name.slice(0, 3) === bare);
  return at < 0 ? null : at + 1;
}
