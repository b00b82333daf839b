import { foldConfusable, mayBeDigit } from "./confusable";
import { withoutSharedSigns } from "./shared-signs";
import { otherForm, verdict, type WindowVerdict } from "./window-verdict";

/** Bounds as `patternKey`s. */
export interface CodeBounds {
  readonly from: string;
  readonly to: string;
}

const lettersOfGroup: Readonly<Record<string, string>> = { "0": "O", "1": "IL", "5": "S", "8": "B", "2": "Z", "6": "G" };
/** Bounds up to this length are beginnings when the code is longer; longer ones are whole codes, and another length a misreading. */
const longestBeginning = 6;

const isDigit = (character: string | undefined): boolean => character !== undefined && character >= "0" && character <= "9";

/** The readings of one character where the bounds have a digit (`wantsDigit`) or a letter; none when it can be neither. */
function readingsAt(character: string, wantsDigit: boolean): string {
  if (wantsDigit) return isDigit(character) ? character : mayBeDigit(character) ? foldConfusable(character) : "";
  const group = lettersOfGroup[foldConfusable(character)] ?? "";
  if (isDigit(character)) return group;
  return character + group.replace(character, "");
}

/** Every reading of the code that has the bounds' shape, the plainest first; a verdict when there is none. */
function readingsInShape(code: string, { from, to }: CodeBounds): string[] | WindowVerdict {
  let readings = [""];
  for (let at = 0; at < from.length; at++) {
    const low = from[at] ?? "";
    const high = to[at] ?? "";
    const own = code[at] ?? "";
    const isFixedLetter = low === high && !isDigit(low);
    const options = isDigit(low) !== isDigit(high) ? own : readingsAt(own, isDigit(low));
    if (isFixedLetter && !options.includes(low)) return verdict("outside");
    if (options === "") return otherForm("it is not of the form that the notice's bounds have");
    readings = readings.flatMap((head) => [...(isFixedLetter ? low : options)].map((option) => head + option));
    if (readings.length > 64) return verdict("unknown", "it can be read in too many ways");
  }
  return readings;
}

/** Bounds in one shape: a letter beside a digit that it is confused with is that digit, as `COO3` beside `C406`. */
function inOneShape({ from, to }: CodeBounds): CodeBounds {
  const shaped = (own: string, other: string): string =>
    [...own].map((character, at) => (isDigit(other[at]) && mayBeDigit(character) ? foldConfusable(character) : character)).join("");
  const low = shaped(from, to);
  const high = shaped(to, low);
  return low === from && high === to ? { from, to } : inOneShape({ from: low, to: high });
}

function compareEqualLength(code: string, printed: CodeBounds): WindowVerdict {
  const bounds = inOneShape(printed);
  const readings = readingsInShape(code, bounds);
  if (!Array.isArray(readings)) return readings;
  const isRing = bounds.from > bounds.to;
  if (isRing && !isDigit(bounds.from[0])) return verdict("unknown", "the notice's bounds run backwards");
  const isInside = (reading: string): boolean =>
    isRing ? reading >= bounds.from || reading <= bounds.to : reading >= bounds.from && reading <= bounds.to;
  const inside = readings.find(isInside);
  const round = isRing ? "the numbers start again from 0 after the highest" : null;
  if (inside === undefined) return verdict("outside", round);
  return verdict("inside", inside === code ? round : "with confused characters read the other way");
}

/** Plain counters of different lengths, such as 1 to 5000. */
function compareCounters(code: string, { from, to }: CodeBounds): WindowVerdict {
  const digits = [...code].map((character) => (mayBeDigit(character) ? foldConfusable(character) : "")).join("");
  if (digits.length !== code.length) return verdict("unknown", "it is not a plain number as the notice's bounds are");
  const value = BigInt(digits);
  return verdict(value >= BigInt(from) && value <= BigInt(to) ? "inside" : "outside");
}

/** Counters of different lengths behind the same letters, such as `QC3753` to `QC77735`. */
function compareUnequal(code: string, { from, to }: CodeBounds): WindowVerdict {
  const head = /^[A-Z]*/.exec(from)?.[0] ?? "";
  const [low, high] = [from.slice(head.length), to.slice(head.length)];
  if (!to.startsWith(head) || !/^\d+$/.test(low) || !/^\d+$/.test(high))
    return verdict("unknown", "the notice's bounds have different forms");
  if (folded(code.slice(0, head.length)) !== folded(head)) return verdict("outside");
  if (BigInt(low) > BigInt(high)) return verdict("unknown", "the notice's bounds run backwards");
  return compareCounters(code.slice(head.length), { from: low, to: high });
}

const folded = (text: string): string => [...text].map(foldConfusable).join("");

/** Up to or from one bound: plain numbers by their value, other codes only in the bound's own shape and with its letters. */
function compareOpen(code: string, { from, to }: CodeBounds): WindowVerdict {
  const bound = from + to;
  if (/^\d+$/.test(bound)) return compareCounters(code, { from: from || "0", to: to || "9".repeat(Math.max(code.length, bound.length)) });
  if (bound === "" || code.length !== bound.length) return verdict("unknown", "the notice's bounds are open");
  const readings = readingsInShape(code, { from: bound, to: bound });
  if (!Array.isArray(readings)) return verdict("unknown", "the notice's bounds are open");
  const inside = readings.find((reading) => (to === "" ? reading >= from : reading <= to));
  return verdict(inside === undefined ? "outside" : "inside");
}

/** The run of wildcards that both bounds end in: `X` (two or more), `#`, `?` or `*`. */
function openTail({ from, to }: CodeBounds): string {
  const tail = /(?:XX+|[#?]+|\*+)$/.exec(from)?.[0] ?? "";
  return to.endsWith(tail) ? tail : "";
}

/**
 * Where a code lies between two bounds. Both must have its length and shape: letters equal where the bounds' letters
 * are, digits compared as numbers. `outside` only if every reading of confusable characters is.
 */
export function compareRange(printed: string, printedBounds: CodeBounds): WindowVerdict {
  const plain = withoutSharedSigns({ code: printed, ...printedBounds });
  if (plain === null) return otherForm("it is not of the form that the notice's bounds have");
  const { code, ...bounds } = plain;
  const tail = openTail(bounds);
  const from = bounds.from.slice(0, bounds.from.length - tail.length);
  const to = bounds.to.slice(0, bounds.to.length - tail.length);
  if (from === "" || to === "") return compareOpen(code, { from, to });
  if (tail !== "" && !tail.startsWith("*") && code.length !== from.length + tail.length)
    return differentLength(code, from.length + tail.length);
  if (from.length !== to.length) {
    return tail === "" ? compareUnequal(code, { from, to }) : verdict("unknown", "the notice's bounds have different forms");
  }
  if (code.length < from.length) return differentLength(code, from.length);
  if (tail !== "" || code.length === from.length) return compareEqualLength(code.slice(0, from.length), { from, to });
  if (from.length > longestBeginning) return differentLength(code, from.length);
  const beginning = compareEqualLength(code.slice(0, from.length), { from, to });
  return verdict(beginning.place, beginning.reading ?? `the notice prints ${from.length} characters, read as the beginning`);
}

function differentLength(code: string, expected: number): WindowVerdict {
  return otherForm(`it has ${code.length} characters, the notice's ${expected}`);
}
