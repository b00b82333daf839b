/** Text as searched: lower case, accents folded, single spaces. */
export function foldText(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toLowerCase()
    .replace(/\s+/g, " ")
    .trim();
}

/** The same without separators, so that `HT 1500` finds `HT-1500`. */
export function foldCode(text: string): string {
  return foldText(text).replace(/[^\p{L}\p{N}]+/gu, "");
}

/** The words that a search asks for, each of which must be found; at most eight, so that a pasted page stays a search. */
export function searchWords(query: string): string[] {
  return [...new Set(foldText(query).split(" "))].filter((word) => word !== "").slice(0, 8);
}
