import type { CodeItem } from "./code-item";
import { expandOptions } from "./options";
import { toPattern, type WildcardMeaning, withVaryingTail } from "./wildcards";

/** A range of models up to this many is written out; a wider one becomes a pattern. */
const mostMembers = 200;

/** The patterns of one value of a model list. `others` are all printed values of the notice (see expandOptions). */
export function modelPatterns(item: CodeItem, meaning: WildcardMeaning, others: readonly string[]): string[] {
  if (item.operator === "pattern") return [item.from];
  if (item.to !== null) return rangePatterns(item.from, item.to);
  const patterns = expandOptions(item.from, others).map((code) => withVaryingTail(toPattern(code, meaning), meaning.tail));
  if (item.operator === "begins") return patterns.map((pattern) => (pattern.endsWith("*") ? pattern : `${pattern}*`));
  if (item.operator === "ends") return patterns.map((pattern) => `*${pattern}`);
  if (item.operator === "contains") return patterns.map((pattern) => `*${pattern}*`);
  return patterns;
}

/**
 * `AB-10` through `AB-15` -> its members. Only the number in which both ends differ runs; a wide range becomes the common
 * beginning with a `#` for each digit that differs, and ends of unlike shape stay as the two models they are.
 */
export function rangePatterns(from: string, to: string): string[] {
  const letters = letterMembers(from, to);
  if (letters) return letters;
  const first = /^(.*?)(\d+)(\D*)$/.exec(from);
  const last = /^(.*?)(\d+)(\D*)$/.exec(to);
  if (!first || !last || first[3] !== last[3] || (last[1] !== "" && first[1] !== last[1])) return [from, to];
  const [, head = "", low = "", tail = ""] = first;
  const high = last[2] ?? "";
  const members = Number(high) - Number(low) + 1;
  if (high.length > 9 || low.length > 9 || members < 1) return [from, to];
  if (members <= mostMembers)
    return Array.from({ length: members }, (_, step) => `${head}${String(Number(low) + step).padStart(low.length, "0")}${tail}`);
  if (low.length !== high.length) return [from, to];
  let same = 0;
  while (low[same] === high[same]) same += 1;
  return [`${head}${low.slice(0, same)}${"#".repeat(low.length - same)}${tail}`];
}

/** `AB-10A` through `AB-10F`: equal but for the last letter, which runs. */
function letterMembers(from: string, to: string): string[] | null {
  const head = from.slice(0, -1);
  const [low, high] = [from.at(-1) ?? "", to.at(-1) ?? ""];
  if (!/\d/.test(head) || to.slice(0, -1) !== head || !/^[A-Z]{2}$/.test(low + high) || low >= high) return null;
  return Array.from(
    { length: high.charCodeAt(0) - low.charCodeAt(0) + 1 },
    (_, step) => head + String.fromCharCode(low.charCodeAt(0) + step),
  );
}
