import { fitPattern, patternKey } from "./code-pattern";
import { type CodeBounds, compareRange } from "./code-range";
import { foldConfusable, mayBeDigit } from "./confusable";
import { type DateOrder, dateOrder, dateOrderLength, dateOrdinal } from "./date-code";
import { modelKey } from "./model-number";
import { otherForm, verdict, type WindowVerdict } from "./window-verdict";

/** A window over serial numbers or date codes, endpoints as printed; `as` is the order of its values where the notice states it. */
export type PrintedWindow =
  | { readonly from: string; readonly to: string; readonly as?: string }
  | { readonly pattern: string; readonly as?: string };

function comparePattern(code: string, printed: string): WindowVerdict {
  const pattern = patternKey(printed);
  const fit = fitPattern(pattern, code);
  if (fit === "exact") return verdict("inside");
  if (fit === "confusable") return verdict("inside", "with confused characters read the other way");
  const isFixedLength = !pattern.includes("*");
  if (isFixedLength && pattern.length !== code.length) return otherForm(`it has ${code.length} characters, the notice's ${pattern.length}`);
  return verdict("outside");
}

/** The code with the characters that tell the date read as digits, which is all that they can be. */
function withDigits(code: string, order: DateOrder): string {
  const length = dateOrderLength(order);
  return (
    [...code.slice(0, length)].map((character) => (mayBeDigit(character) ? foldConfusable(character) : character)).join("") +
    code.slice(length)
  );
}

/** `null` when the bounds themselves do not run in this order. */
function compareInOrder(read: string, bounds: CodeBounds, order: DateOrder): WindowVerdict | null {
  const code = withDigits(read, order);
  const from = dateOrdinal(bounds.from, order);
  const to = dateOrdinal(bounds.to, order);
  if (from === null || to === null || from > to) return null;
  const at = dateOrdinal(code, order);
  if (at === null) return verdict("unknown", "its first characters are no such date");
  return verdict(at >= from && at <= to ? "inside" : "outside", code === read ? null : "with confused characters read the other way");
}

/** What the bounds print after the part that tells the date must agree as well, so `209MM` is not in `201KM` to `312KM`. */
function compareDated(code: string, bounds: CodeBounds, order: DateOrder): WindowVerdict {
  const place = compareInOrder(code, bounds, order);
  if (place === null) return verdict("unknown", "the notice's bounds do not fit the order it states");
  const rest = bounds.from.slice(dateOrderLength(order));
  if (place.place !== "inside" || rest === "" || rest !== bounds.to.slice(dateOrderLength(order))) return place;
  const tail = compareRange(code.slice(dateOrderLength(order)), { from: rest, to: rest });
  return tail.place === "inside" || /^(?:X+|[#?]+|\*)$/.test(rest) ? place : tail;
}

/** Orders that four digits of a date code may run in when the notice does not say. */
const unstatedOrders = ["YYWW", "WWYY", "YYMM", "MMYY"].flatMap((name) => dateOrder(name) ?? []);

/** Four-digit date codes in no stated order: decided only when every order that the bounds allow agrees. */
function compareUnstated(code: string, bounds: CodeBounds): WindowVerdict | null {
  if (![bounds.from, bounds.to].every((digits) => /^\d{4}$/.test(digits))) return null;
  if (code.length !== 4 || ![...code].every(mayBeDigit)) return null;
  const verdicts = unstatedOrders.flatMap((order) => compareInOrder(code, bounds, order) ?? []).filter(({ place }) => place !== "unknown");
  const places = new Set(verdicts.map(({ place }) => place));
  if (places.size <= 1) return verdicts[0] ?? null;
  return verdict("unknown", "the notice does not say whether the year comes first or last");
}

/**
 * Where a serial number or date code lies against a window of a notice. Codes are compared with separators dropped and
 * in every reading of confusable characters: `outside` means outside in all of them. The order of a date is taken as
 * the notice states it, never guessed.
 */
export function compareWithWindow(printed: string, window: PrintedWindow, kind: "serial" | "dateCode"): WindowVerdict {
  const code = modelKey(printed);
  if (code === "") return verdict("unknown");
  const found = compareCode(code, window, kind);
  return found.place === "outside" && printed.includes("?") ? verdict("unknown", "it is only partly read") : found;
}

function compareCode(code: string, window: PrintedWindow, kind: "serial" | "dateCode"): WindowVerdict {
  if ("pattern" in window) return comparePattern(code, window.pattern);
  const bounds = { from: patternKey(window.from), to: patternKey(window.to) };
  if (window.as === "beginning") return compareRange(code.slice(0, bounds.from.length), bounds);
  const order = window.as === undefined ? null : dateOrder(window.as);
  if (order) return compareDated(code, bounds, order);
  const unstated = kind === "dateCode" && window.as === undefined ? compareUnstated(code, bounds) : null;
  return unstated ?? compareRange(code, bounds);
}
