import { gluedRange } from "./ranges";
import { hasDigit, partsOf, type Token } from "./token";

/**
 * Codes of a flattened table that run into each other: `QSE4611ST617QMXXXXXXX216QMXXXXXXX`. They are split only where
 * the shapes of the same text's other codes say so; what cannot be split stays whole.
 */
interface Shape {
  /** The letters it begins with. */
  readonly head: string;
  readonly pattern: RegExp;
}

/** Longest run that is tried, and longest single code. */
const longestRun = 3_000;
const longestCode = 24;
/** What a part costs: one like a known code, one of a known shape only, one that merely looks like a code. */
const cost = { known: 1, shaped: 3, unknown: 7 };

/** Splits glued runs among the tokens; the others are passed on as they are. */
export function unglueCodes(tokens: readonly Token[]): Token[] {
  const shapes = learnShapes(tokens);
  const letters = new Set(tokens.filter((token) => token.kind === "capitals" && token.text.length <= 3).map((token) => token.text));
  return tokens.flatMap((token, at) => {
    const tail = byTailBefore(tokens, at, shapes);
    if (tail) return partsOf(token, tail);
    if (token.kind !== "code" || token.text.length < 5 || token.text.length > longestRun || gluedRange(token.text)) return [token];
    const parts = token.text.length >= 15 ? splitRun(token.text, shapes) : splitKnown(token.text, shapes, letters);
    const apart = parts.flatMap((part) => byTwinHeads(part, withoutOwn(part, shapes)) ?? [part]);
    return apart.length < 2 ? [token] : partsOf(token, apart);
  });
}

/** `AB10AA, ABAB20AD`: the last of the ends of a code, glued to the next code of the same shape. */
function byTailBefore(tokens: readonly Token[], at: number, shapes: ReadonlyMap<string, Shape>): string[] | null {
  const text = tokens[at]?.text ?? "";
  const before = tokens[at - 2]?.text ?? "";
  const length = /(?<=\d|^)[A-Z]{1,3}$/.exec(before)?.[0].length ?? 0;
  if (length === 0 || tokens[at - 1]?.text !== "," || !/^[A-Z]{3,}-?\d/.test(text)) return null;
  const rest = text.slice(length);
  return shapes.get(shapeOf(rest))?.head === headOf(rest) && headOf(rest) !== "" ? [text.slice(0, length), rest] : null;
}

function learnShapes(tokens: readonly Token[]): Map<string, Shape> {
  const shapes = new Map<string, Shape>();
  for (const token of tokens) {
    // Of a long code with options (`QBS27BH/WH/CH/SH`) the part before them.
    const code =
      token.text.length >= 15 && /^[^/]{5,12}(?:\/[A-Z]{1,2})+$/.test(token.text) ? (token.text.split("/")[0] ?? "") : token.text;
    const plain = token.kind === "code" && code.length >= 4 && code.length < 15;
    if (plain && /^[A-Z\d][A-Z\d/.*-]+$/.test(code)) shapes.set(shapeOf(code), { head: headOf(code), pattern: patternOf(code) });
  }
  return shapes;
}

function headOf(code: string): string {
  return /^[A-Z]*/.exec(code)?.[0] ?? "";
}

function shapeOf(code: string): string {
  return (
    headOf(code) +
    code
      .slice(headOf(code).length)
      .replace(/\d/g, "0")
      .replace(/[A-WYZ]/g, "A")
  );
}

/** Digits and letters by number, runs of X as they stand. */
function patternOf(code: string): RegExp {
  const source = code.replace(/X{3,}|[A-Z]+|\d+|[/.*-]/g, (run) => {
    if (/^X{3,}$/.test(run)) return `X{${run.length}}`;
    if (/^[A-Z]/.test(run)) return `[A-Z]{${run.length}}`;
    return /^\d/.test(run) ? `\\d{${run.length}}` : `\\${run}`;
  });
  return new RegExp(source, "y");
}

/** A short token is split only into parts that all begin as known codes do. */
function splitKnown(run: string, shapes: ReadonlyMap<string, Shape>, letters: ReadonlySet<string>): string[] {
  const numbered = byRecurringNumber(run);
  if (numbered.length > 1) return numbered;
  const cell = /^([A-Z]{2,4}\d{1,2})([A-Z]{2})$/.exec(run);
  if (cell?.[1] && cell[2] && isListOfLetters(letters) && [...shapes.keys()].some((shape) => shape.length === cell[1]?.length))
    return [cell[1], cell[2]];
  const tail = /^([A-Z]+\d+)([A-Z]{2,3})$/.exec(run);
  if (tail?.[1] && tail[2] && letters.has(tail[2]) && shapes.has(shapeOf(tail[1]))) return [tail[1], tail[2]];
  if (shapes.has(shapeOf(run)) && [...shapes.keys()].filter((shape) => shape === shapeOf(run)).length > 1) return [run];
  const parts = cheapest(run, shapes, false);
  return parts && parts.length > 1 && parts.every((part) => headOf(part) !== "" && hasDigit(part)) && !run.includes("/") ? parts : [run];
}

function withoutOwn(run: string, shapes: ReadonlyMap<string, Shape>): Map<string, Shape> {
  return new Map([...shapes].filter(([shape]) => shape !== shapeOf(run)));
}

/** A column of letters as long as a list: what a code of the column before may be glued to. */
function isListOfLetters(letters: ReadonlySet<string>): boolean {
  return [...letters].filter((one) => one.length === 2).length >= 8;
}

/** `QBS07HJQP21BH`: two codes with heads of the same length and as many digits, of which one head is known. */
function byTwinHeads(run: string, shapes: ReadonlyMap<string, Shape>): string[] | null {
  const twin = /^([A-Z]{3,4})(\d{2,4})([A-Z]{1,6})(\d{2,4})([A-Z]{0,3}(?:\/[A-Z]{1,3})*)$/.exec(run);
  const [, head = "", digits = "", middle = "", more = "", tail = ""] = twin ?? [];
  const cut = middle.length - head.length;
  const isKnown = [...shapes.values()].some((shape) => shape.head === head);
  if (!twin || cut < 0 || cut > 3 || digits.length !== more.length || !isKnown) return null;
  return [head + digits + middle.slice(0, cut), middle.slice(cut) + more + tail];
}

/** `22-91112/422-62781`: the number it begins with comes again after an option. */
function byRecurringNumber(run: string): string[] {
  const head = /^\d{2,3}-(?=\d{4})/.exec(run)?.[0];
  return head === undefined ? [run] : run.split(new RegExp(`(?<=\\/\\d)(?=${head}\\d{4})`));
}

function splitRun(run: string, shapes: ReadonlyMap<string, Shape>): string[] {
  const numbered = byRecurringNumber(run);
  if (numbered.length > 1) return numbered;
  if (run.includes("/") && run.split("/").every((part) => /^[A-Z]{1,5}-?\d{2,}[A-Z]{0,3}$/.test(part))) return [run];
  const own = withoutOwn(run, shapes);
  const optioned = byOptions(run);
  if (optioned.length > 1) return optioned.flatMap((part) => (part.length >= 15 ? splitRun(part, own) : [part]));
  const alike = bySameHead(run);
  if (alike.length > 2) return alike;
  const hyphened = run.split(/(?<=\d)(?=[A-Z]{1,4}-\d)/);
  if (hyphened.length > 3) return hyphened.flatMap((part) => (part.length > longestCode ? splitRun(part, own) : [part]));
  return cheapest(run, own, false) ?? withUnknown(run, own) ?? byRecurringHead(run, own) ?? [run];
}

/** `QT-100BQT-100WQT-200B`: three codes or more, each of the letters it begins with, a number and few letters. */
function bySameHead(run: string): string[] {
  const head = /^[A-Z]{2,5}-(?=\d)/.exec(run)?.[0];
  const pieces = head === undefined ? [run] : run.split(new RegExp(`(?=${head}\\d)`));
  return pieces.every((piece) => /^[A-Z]+-\d{1,6}[A-Z]{0,4}$/.test(piece)) ? pieces : [run];
}

/** `QT28B/W/S/CQK28B/W/C`: options of one length after slashes; a code begins where one would be longer. */
function byOptions(run: string): string[] {
  const lengths = new Set([...run.matchAll(/(?<=\/)[A-Z]+(?=\/)/g)].map((option) => option[0].length));
  const [length] = lengths;
  if (lengths.size !== 1 || length === undefined || length > 2) return [run];
  return run.split(new RegExp(`(?<=\\/[A-Z]{${length}})(?=[A-Z]{2,4}\\d{2})`));
}

/** Parts of unknown shape are believed only beside a long one that is known: a cut that nothing else shows is a guess. */
function withUnknown(run: string, shapes: ReadonlyMap<string, Shape>): string[] | null {
  const parts = cheapest(run, shapes, true);
  if (!parts) return null;
  const known = parts.some(
    (part) =>
      part.length >= 8 &&
      [...shapes.values()].some(
        ({ head, pattern }) => head !== "" && part.startsWith(head) && new RegExp(`^${pattern.source}$`).test(part),
      ),
  );
  return known ? parts : null;
}

/** The cheapest way to cut the run into code-like parts, or null where none covers it. */
function cheapest(run: string, shapes: ReadonlyMap<string, Shape>, allowUnknown: boolean): string[] | null {
  const best: ({ total: number; from: number } | undefined)[] = [{ total: 0, from: 0 }];
  for (let at = 0; at < run.length; at++) {
    const here = best[at];
    if (!here) continue;
    for (const [length, price] of partsAt(run, at, shapes, allowUnknown)) {
      const total = here.total + price;
      const there = best[at + length];
      if (!there || total < there.total) best[at + length] = { total, from: at };
    }
  }
  if (!best[run.length]) return null;
  const parts: string[] = [];
  for (let end = run.length; end > 0; end = best[end]?.from ?? 0) parts.unshift(run.slice(best[end]?.from ?? 0, end));
  return parts;
}

function partsAt(run: string, at: number, shapes: ReadonlyMap<string, Shape>, allowUnknown: boolean): [number, number][] {
  const parts: [number, number][] = [];
  for (const { head, pattern } of shapes.values()) {
    pattern.lastIndex = at;
    const match = pattern.exec(run);
    if (match) parts.push([match[0].length, run.startsWith(head, at) ? cost.known : cost.shaped]);
  }
  if (allowUnknown) {
    const unknown = /[A-Z]{1,5}-?\d{2,}[A-Z]{0,4}|\d{3}-\d{2,}/y;
    unknown.lastIndex = at;
    const match = unknown.exec(run);
    for (let length = match ? match[0].length : 0; length >= 4 && length > (match?.[0].length ?? 0) - 4; length--)
      parts.push([length, cost.unknown]);
  }
  return parts;
}

/** `QCES950HSSQCES950HBLVCE97...`: the letters at the start come again at the start of each code. */
function byRecurringHead(run: string, shapes: ReadonlyMap<string, Shape>): string[] | null {
  const head = /^[A-Z]{2,5}(?=\d)|^[A-Z]{2,5}(?=-\d)/.exec(run)?.[0];
  if (!head || run.length < 12) return null;
  const pieces = run.split(new RegExp(`(?=${head}-?\\d)`));
  if (pieces.length < 2) return null;
  const last = pieces[pieces.length - 1] as string;
  const before = pieces.slice(0, -1);
  const longest = Math.max(...before.map((piece) => piece.length));
  if (longest > longestCode) return null;
  const like =
    before
      .map(patternOf)
      .map((pattern) => (pattern.exec(last) ?? [""])[0])
      .sort((a, b) => b.length - a.length)[0] ?? "";
  if (last.length <= longest || like.length === last.length) return pieces;
  if (like === "") return last.length <= longestCode ? pieces : null;
  const rest = last.slice(like.length);
  return /^[A-Z\d]{3,}/.test(rest)
    ? [...before, like, ...(rest.length >= 8 ? (byRecurringHead(rest, shapes) ?? cheapest(rest, shapes, true) ?? [rest]) : [rest])]
    : pieces;
}
