import type { CodeItem } from "./code-item";
import { type CodeOptions, optionsAt } from "./code-options";
import { fitsSlot, isFormat, printedCode } from "./code-shape";
import { takeAnySuffix, takeFollowing, takeNumbers, takePlaces, takeSuffix } from "./code-tails";
import { type CodeWalk, canTake, isExampleWord } from "./code-walk";
import { type Cue, cueAt, lowerAt, type Slot } from "./cues";
import { numberedLettersAt } from "./numbered-letters";
import { isExclusionAt, type Operator, openEndAt, operatorAt } from "./operators";
import { joinedEnds, rangeItems } from "./range-items";
import { type RangeEnd, rangeEndAt } from "./ranges";
import { tableHeaderAt } from "./table-header";
import { hasDigit, type Token } from "./token";

export interface CodeList {
  readonly slot: Slot;
  readonly items: readonly CodeItem[];
  /** Index of the first token after the list. */
  readonly next: number;
}

/** Words that may stand between a cue and its first value: "model numbers included in this recall are: ...". */
const verbsOfPlace =
  /^(?:located|printed|found|stamped|appears?|displayed|represented|written|engraved|embossed|etched|molded|imprinted|visible|labeled|marked|affixed|available|prior|shown|posted|accessible|identified|determine)$/;
const joins = /^(?:,|;|from|through|and|or|&|\/|:|\(|\)|\[|\]|•|·|-|–|—|either|both|plus|also|the|following|one|of)$/;

/** As many cues in a row ("model numbers and item numbers:") may stand before a value. */
const mostCues = 8;

/** Reads the values after a cue, up to where the text turns to something else. Null when none follows. */
export function readCodeList(tokens: readonly Token[], cue: Cue, before: Operator = "exact"): CodeList | null {
  const walk: CodeWalk = {
    tokens,
    slot: cue.slot,
    items: [],
    start: cue.next - 1,
    numbered: cue.numbered,
    at: cue.next,
    operator: before,
    excluded: false,
    excludedInBrackets: false,
    cues: 0,
    depth: 0,
    idle: 0,
    quoted: false,
  };
  while (walk.at < tokens.length && step(walk));
  if (walk.items.length === 0) return null;
  return { slot: cue.slot, items: joinedEnds(walk.items), next: walk.at };
}

/** Takes one token or phrase; false ends the list. */
function step(walk: CodeWalk): boolean {
  const token = walk.tokens[walk.at] as Token;
  if (token.kind === "stop") return continuesAfterStop(walk);
  if (walk.at > walk.start && tableHeaderAt(walk.tokens, walk.at)) return false;
  if (isExampleWord(token)) return passExample(walk);
  if (token.lower === "may" && /^(?:have|also)$/.test(lowerAt(walk.tokens, walk.at + 1))) return false;
  if (walk.items.length > 0 && (token.lower === "they" || isAboutAnother(walk))) return false;
  if (token.lower === "following" && lowerAt(walk.tokens, walk.at + 1) === "the") return false;
  if (walk.items.length > 0 && /^(?:as|in|for)$/.test(token.lower) && takePlaces(walk)) return false;
  if (walk.items.length > 0 && (takeAnySuffix(walk) || takeNumbers(walk) || takeSuffix(walk) || takeFollowing(walk))) return true;
  const operator = operatorAt(walk.tokens, walk.at);
  if (operator) {
    if (walk.items.length > 0 && walk.idle > 0 && operator.operator === "exact") return false;
    walk.operator = operator.operator;
    walk.at = operator.next;
    walk.idle = 0;
    return true;
  }
  const exclusion = isExclusionAt(walk.tokens, walk.at);
  if (exclusion !== null) {
    walk.excluded = true;
    walk.excludedInBrackets = walk.depth > 0;
    walk.at = exclusion;
    return true;
  }
  const cue = cueAt(walk.tokens, walk.at);
  if (cue) return passCue(walk, cue);
  if (canTake(walk, token)) return take(walk);
  return passWord(walk, token);
}

/** "... for model AB-1 is from 100 to 200": the numbers of something said before, not more models. */
function isAboutAnother({ tokens, at, slot, idle }: CodeWalk): boolean {
  if (slot !== "model" || idle > 0 || !/^(?:is|are)$/.test(lowerAt(tokens, at))) return false;
  const value = /^(?:from|between)$/.test(lowerAt(tokens, at + 1)) ? at + 2 : at + 1;
  return hasDigit(tokens[value]?.text ?? "");
}

/** "(for example, AB12)": what stands in the brackets only explains; outside of brackets the list is at its end. */
function passExample(walk: CodeWalk): boolean {
  if (walk.depth === 0) return false;
  while (walk.at < walk.tokens.length && walk.tokens[walk.at]?.text !== ")") walk.at += 1;
  return true;
}

/** A full stop in the middle: only where the list plainly goes on, as after "Nos.". */
function continuesAfterStop(walk: CodeWalk): boolean {
  const next = walk.tokens[walk.at + 1];
  if (!next || walk.items.length > 0 || walk.idle > 0 || next.kind === "capitals" || !fitsSlot(next, walk.slot)) return false;
  walk.at += 1;
  return true;
}

function passCue(walk: CodeWalk, cue: Cue): boolean {
  const wordOnly = cue.slot === "model" && walk.slot !== "model" && !cue.numbered && !cue.named && walk.items.length === 0;
  if (wordOnly && !canFollow(walk, cue.next)) {
    walk.at += 1;
    walk.idle += 1;
    return true;
  }
  if (cue.slot !== walk.slot && !(cue.slot === "sold" && walk.depth > 0)) return false;
  if (walk.items.length > 0 && walk.depth === 0 && walk.idle > 0) return false;
  walk.cues += 1;
  if (walk.cues > mostCues) return false;
  if (cue.slot === walk.slot && (cue.numbered || canFollow(walk, cue.next))) walk.idle = 0;
  walk.at = cue.next;
  return true;
}

/** Whether a value stands right after a cue: then the cue is one, not a word of the sentence. */
function canFollow(walk: CodeWalk, at: number): boolean {
  const next = walk.tokens[at];
  return next !== undefined && (next.kind === "code" || next.kind === "number");
}

function take(walk: CodeWalk): boolean {
  const token = walk.tokens[walk.at] as Token;
  const options = numberedLettersAt(walk.tokens, walk.at) ?? optionsAt(walk.tokens, walk.at);
  if (options && walk.slot === "model") return takeOptions(walk, options);
  const range = rangeEndAt({ tokens: walk.tokens, at: walk.at, slot: walk.slot, between: walk.operator === "between" });
  const item = {
    operator: walk.operator === "between" ? ("exact" as const) : walk.operator,
    excluded: walk.excluded,
    start: token.start,
    token: walk.at,
  };
  const open = range || walk.slot === "model" || walk.operator !== "exact" ? null : openEndAt(walk.tokens, walk.at + 1);
  if (range) walk.items.push(...rangeItems(walk.operator, { ...item, from: printedCode(range.from), to: range.to, end: range.end }));
  else if (open) walk.items.push({ ...item, operator: open.operator, from: printedCode(token.text), to: null, end: token.end });
  else walk.items.push({ ...item, from: printedCode(token.text), to: null, end: token.end });
  walk.at = range?.next ?? open?.next ?? walk.at + 1;
  walk.idle = 0;
  walk.cues = 0;
  if (walk.slot === "model" && !range && lowerAt(walk.tokens, walk.at) === "series" && item.operator === "exact") {
    walk.items[walk.items.length - 1] = { ...item, operator: "begins", from: printedCode(token.text), to: null, end: token.end };
    walk.at += 1;
  }
  return true;
}

/** `AB12F (or G)`, `AB12 (T) (K)`: each of the codes that are meant. */
function takeOptions(walk: CodeWalk, { codes, next, end }: CodeOptions): boolean {
  const token = walk.tokens[walk.at] as Token;
  for (const from of codes)
    walk.items.push({ from, to: null, operator: walk.operator, excluded: walk.excluded, start: token.start, end, token: walk.at });
  walk.at = next;
  walk.idle = 0;
  return true;
}

/** "The date code is stamped on the plug and begins with 05", "..., stamped on the plug, is B7": past the place, to the values or how they run. */
function skipToManner(walk: CodeWalk): boolean {
  for (let at = walk.at + 1; at < walk.at + 30; at++) {
    const token = walk.tokens[at];
    if (!token || token.kind === "stop" || cueAt(walk.tokens, at)) return false;
    const manner = operatorAt(walk.tokens, at);
    const isRange = manner?.operator === "between" && rangeEndAt({ tokens: walk.tokens, at: manner.next, slot: walk.slot, between: true });
    const isValue = /^(?:is|are)$/.test(token.lower) && lowerAt(walk.tokens, at - 1) === "," && canFollow(walk, at + 1);
    if (isValue || manner?.operator === "begins" || manner?.operator === "ends" || (isRange && isLongRange(isRange))) {
      walk.at = isValue ? at + 1 : at;
      walk.idle = 0;
      return true;
    }
  }
  return false;
}

/** Both ends as long as codes are; "between 2 and 5" counts something. */
function isLongRange({ from, to }: RangeEnd): boolean {
  return Math.min(from.length, to.length) >= 3 && hasDigit(from) && hasDigit(to);
}

function passWord(walk: CodeWalk, token: Token): boolean {
  if (token.text === "(" || token.text === "[") walk.depth += 1;
  else if (token.text === ")" || token.text === "]") {
    if (walk.depth === 0 && walk.items.length > 0 && !/^(?:,|and|or|;|&)$/.test(lowerAt(walk.tokens, walk.at + 1))) return false;
    walk.depth = Math.max(0, walk.depth - 1);
    if (walk.excludedInBrackets && walk.depth === 0) walk.excluded = walk.excludedInBrackets = false;
    walk.idle = 0;
    if (walk.items.length === 0) walk.operator = "exact";
  } else if (token.kind === "quote") walk.quoted = !walk.quoted;
  else if (!joins.test(token.lower) && token.kind !== "mark") {
    if (walk.items.length === 0 && /^(?:address|zip|telephone|phone)$/.test(token.lower)) return false;
    if (walk.items.length > 0 && token.lower === "along" && lowerAt(walk.tokens, walk.at + 1) === "with") return false;
    if (walk.depth === 0 && verbsOfPlace.test(token.lower)) return walk.items.length === 0 && skipToManner(walk);
    if (walk.depth === 0 && !isFormat(token.text)) walk.idle += 1;
    if (walk.idle > (walk.items.length === 0 ? 14 : 6)) return false;
  } else if (token.text === ":" && walk.items.length === 0) walk.idle = 0;
  walk.at += 1;
  return true;
}
