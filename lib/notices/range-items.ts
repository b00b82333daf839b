import type { CodeItem } from "./code-item";
import type { Operator } from "./operators";

/**
 * "beginning with the letters A through F", "ending in 15 through 18", "with the letters AJ through AX": each of them. Any
 * other range stands as it is.
 */
export function rangeItems(operator: Operator, item: CodeItem): CodeItem[] {
  const isPartOfCode = operator === "begins" || operator === "ends" || operator === "contains";
  const isLetter = /^[A-Z]$/.test(item.from) && /^[A-Z]$/.test(item.to ?? "");
  const members = isPartOfCode || isLetter ? (twoDigits(item.from, item.to ?? "") ?? lettersRunning(item.from, item.to ?? "")) : null;
  return members ? members.map((from) => ({ ...item, from, to: null })) : [item];
}

function twoDigits(from: string, to: string): string[] | null {
  if (!/^\d{2}$/.test(from) || !/^\d{2}$/.test(to) || from > to) return null;
  return Array.from({ length: Number(to) - Number(from) + 1 }, (_, step) => String(Number(from) + step).padStart(2, "0"));
}

/** Letters of which only the last one runs. */
function lettersRunning(from: string, to: string): string[] | null {
  if (!/^[A-Z]{1,3}$/.test(from) || !/^[A-Z]{1,3}$/.test(to) || from.slice(0, -1) !== to.slice(0, -1) || from >= to) return null;
  const [first, last] = [from.charCodeAt(from.length - 1), to.charCodeAt(to.length - 1)];
  return Array.from({ length: last - first + 1 }, (_, step) => from.slice(0, -1) + String.fromCharCode(first + step));
}

/** "greater than 100 and less than 200": two open ends beside each other are one range. */
export function joinedEnds(items: readonly CodeItem[]): CodeItem[] {
  const joined: CodeItem[] = [];
  for (const item of items) {
    const last = joined[joined.length - 1];
    if (last?.operator === "above" && last.to === null && item.operator === "below" && item.to === null)
      joined[joined.length - 1] = { ...last, operator: "exact", to: item.from, end: item.end };
    else joined.push(item);
  }
  return joined;
}
