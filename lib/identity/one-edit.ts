/** The one slip that turns one key into another. */
export type OneEdit = "none" | "substituted" | "swapped" | "dropped" | "doubled" | "added" | "more";

function commonHead(left: string, right: string): number {
  const most = Math.min(left.length, right.length);
  let at = 0;
  while (at < most && left.charCodeAt(at) === right.charCodeAt(at)) at++;
  return at;
}

function sameLengthEdit(read: string, meant: string, at: number): OneEdit {
  if (read.slice(at + 1) === meant.slice(at + 1)) return "substituted";
  const isSwap = read[at] === meant[at + 1] && read[at + 1] === meant[at] && read.slice(at + 2) === meant.slice(at + 2);
  return isSwap ? "swapped" : "more";
}

/** What happened to `meant` when `read` was written down: nothing, one slip (named), or more than one. */
export function oneEditBetween(read: string, meant: string): OneEdit {
  if (read === meant) return "none";
  if (read.length > meant.length + 1 || read.length + 1 < meant.length) return "more";
  const at = commonHead(read, meant);
  if (read.length === meant.length) return sameLengthEdit(read, meant, at);
  if (read.length + 1 === meant.length) return read.slice(at) === meant.slice(at + 1) ? "dropped" : "more";
  if (read.slice(at + 1) !== meant.slice(at)) return "more";
  return read[at] === read[at - 1] ? "doubled" : "added";
}

/** At most one character substituted, dropped or added, or two neighbours swapped (optimal string alignment distance of 1). */
export function isWithinOneEdit(left: string, right: string): boolean {
  return oneEditBetween(left, right) !== "more";
}
