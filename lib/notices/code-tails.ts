import { numbersAfterLetters } from "./affix-numbers";
import { anySuffixAt, suffixesAt } from "./code-options";
import type { CodeWalk } from "./code-walk";
import { lowerAt } from "./cues";
import { followingPlaces } from "./following-places";
import { endPlacesAt } from "./operators";

/** `"16" or "17" as the first two digits`: the values taken are beginnings or ends. */
export function takePlaces(walk: CodeWalk): boolean {
  const places = endPlacesAt(walk.tokens, lowerAt(walk.tokens, walk.at + 1) === "the" ? walk.at + 2 : walk.at + 1);
  if (!places) return false;
  for (const [at, item] of walk.items.entries()) if (item.operator === "exact") walk.items[at] = { ...item, operator: places.operator };
  walk.at = places.next;
  return true;
}

/** "... followed by numbers between 10001 and 20500": the beginnings taken are joined to them. */
export function takeNumbers(walk: CodeWalk): boolean {
  const joined = numbersAfterLetters(walk.tokens, walk.at, walk.items);
  if (!joined) return false;
  walk.items.splice(0, walk.items.length, ...joined.items);
  walk.at = joined.next;
  walk.idle = 0;
  walk.operator = "exact";
  return true;
}

/** "AB-1 and AB-2 with any suffix": both are beginnings; "AB-2 (any suffix)": the one before the bracket is. */
export function takeAnySuffix(walk: CodeWalk): boolean {
  const next = walk.slot === "model" ? anySuffixAt(walk.tokens, walk.at) : null;
  if (next === null) return false;
  const from = lowerAt(walk.tokens, walk.at) === "(" ? walk.items.length - 1 : 0;
  for (const [at, item] of walk.items.entries())
    if (at >= from && item.to === null && item.operator === "exact") walk.items[at] = { ...item, operator: "begins" };
  walk.at = next;
  walk.idle = 0;
  return true;
}

/** "AB-1 and AB-2 with or without the suffix R": each of them also with it. */
export function takeSuffix(walk: CodeWalk): boolean {
  const suffix = walk.slot === "model" ? suffixesAt(walk.tokens, walk.at) : null;
  if (!suffix) return false;
  const longer = walk.items.flatMap((item) => suffix.letters.map((letter) => ({ ...item, from: item.from + letter, end: suffix.end })));
  walk.items.push(...longer.filter((item) => item.to === null && item.operator === "exact"));
  walk.at = suffix.next;
  return true;
}

/** "AB-1 and AB-2 followed by two letters": the characters behind them are part of each. */
export function takeFollowing(walk: CodeWalk): boolean {
  const following = walk.slot === "model" ? followingPlaces(walk.tokens, walk.at) : null;
  if (!following) return false;
  for (const [at, item] of walk.items.entries())
    if (item.to === null && (item.operator === "exact" || item.operator === "begins"))
      walk.items[at] = { ...item, from: item.from + following.signs, operator: "exact" };
  walk.at = following.next;
  return true;
}
