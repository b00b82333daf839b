import { type DaySpan, daySpans } from "./days";
import { isMeasure, isUnitWord } from "./measure";
import { plainCapitals } from "./plain-capitals";
import { hasDigit, isYear, type Token, type TokenKind } from "./token";
import { unglueWords } from "./unglue-words";

/** Runs of characters that belong together, single quotation marks, and any other single character. */
const piece = /[\p{L}\p{N}#][^\s"“”„″,;:()[\]{}–—…]*(?:\([A-Za-z0-9]{1,2}\)[\w/-]*)?|\d{1,3}(?:,\d{3})+|\S/gu;
const thousands = /^\d{1,3}(?:,\d{3})+(?!\d)/;
const abbreviation =
  /^(?:no|nos|inc|co|corp|ltd|llc|approx|oz|lbs?|in|ft|st|vs|mr|mrs|dr|u\.s|u\.s\.a|calif|conn|mass|mich|minn|wis|wisc|ill|ind|pa|va|md|fla|ga|tex|ariz|ore|wash|tenn|ky|la|ala|miss|mo|kan|neb|nev|colo|del|jan|feb|mar|apr|aug|sept|sep|oct|nov|dec|a\.m|p\.m|e\.g|i\.e|etc|dept|model|ser|mod|approx)$/i;

/** Text -> tokens in order. Expects a masked text (see mask); offsets are those of the given text. */
export function tokenize(clean: string): Token[] {
  const dates = daySpans(clean);
  const tokens: Token[] = [];
  let nextDate = 0;
  let at = 0;
  const quotes = { open: false };
  while (at < clean.length) {
    while (dates[nextDate] && (dates[nextDate] as DaySpan).start < at) nextDate++;
    const date = dates[nextDate];
    if (date?.start === at) {
      tokens.push(token(clean, at, date.end, "date", date));
      at = date.end;
      continue;
    }
    at = readPiece({ clean, at, until: date?.start ?? clean.length, tokens, quotes });
  }
  return tokens;
}

interface Reading {
  readonly clean: string;
  readonly at: number;
  readonly until: number;
  readonly tokens: Token[];
  readonly quotes: { open: boolean };
}

/** Reads what stands at one place and returns the place after it. */
function readPiece({ clean, at, until, tokens, quotes }: Reading): number {
  if (clean[at] === " ") return at + 1;
  const quantity = /\d/.test(clean[at] ?? "") ? thousands.exec(clean.slice(at, at + 20)) : null;
  if (quantity && !/[\w-]/.test(clean[at - 1] ?? " ")) {
    tokens.push(token(clean, at, at + quantity[0].length, "quantity"));
    return at + quantity[0].length;
  }
  piece.lastIndex = at;
  const found = piece.exec(clean);
  const end = Math.min(found ? found.index + found[0].length : clean.length, until);
  const run = clean.slice(at, end);
  if (!/[\p{L}\p{N}#]/u.test(run[0] ?? "")) {
    tokens.push(markToken(clean, at, tokens, quotes));
    return at + 1;
  }
  let from = at;
  for (const part of unglueWords(run)) {
    addRun(clean, from, part, tokens);
    from += part.length;
  }
  return inchMark(clean, end, tokens, quotes);
}

/** A straight or curly mark right after a number means inches unless a quotation is open. */
function inchMark(clean: string, end: number, tokens: Token[], quotes: { open: boolean }): number {
  const last = tokens[tokens.length - 1];
  const mark = clean[end];
  if (!last || !mark || !/["”″]/.test(mark) || quotes.open) return end;
  const glued = mark === "”" ? /^(.*[A-Za-z].*?)(\d{2})$/.exec(last.text) : null;
  if (glued) {
    tokens[tokens.length - 1] = token(clean, last.start, last.end - 2, kindOf(glued[1] ?? ""));
    tokens.push(token(clean, last.end - 2, end, "number"));
  } else if (!/^[\d./½¼¾-]+$/.test(last.text)) return end;
  return inches(clean, end, tokens);
}

function inches(clean: string, end: number, tokens: Token[]): number {
  const last = tokens[tokens.length - 1] as Token;
  tokens[tokens.length - 1] = token(clean, last.start, end + 1, "measure");
  return end + 1;
}

function markToken(clean: string, at: number, tokens: readonly Token[], quotes: { open: boolean }): Token {
  const mark = clean[at] ?? "";
  if (/["“”„″]/.test(mark)) {
    quotes.open = mark === "“" || mark === "„" ? true : mark === '"' ? !quotes.open : false;
    return token(clean, at, at + 1, "quote");
  }
  if (/[!?]/.test(mark)) return token(clean, at, at + 1, "stop");
  if (mark === "." && tokens.length > 0) return token(clean, at, at + 1, "stop");
  return token(clean, at, at + 1, "mark");
}

/** Adds a run of letters and digits without the punctuation at its end; a full stop that ends a sentence becomes a token. */
function addRun(clean: string, from: number, part: string, tokens: Token[]): void {
  const body = part.replace(/[.'’!?,&/–-]+$/, "");
  if (body === "") return;
  tokens.push(token(clean, from, from + body.length, kindOf(body)));
  const tail = part.slice(body.length);
  const dot = tail.search(/[.!?]/);
  const at = from + body.length + Math.max(dot, 0);
  if (
    dot >= 0 &&
    endsSentence(
      body,
      clean
        .slice(at + 1, at + 80)
        .replace(/^\s+/, " ")
        .slice(0, 3),
    )
  )
    tokens.push(token(clean, at, at + 1, "stop"));
  else if (/^[-/&]/.test(tail)) tokens.push(token(clean, from + body.length, from + body.length + 1, "mark"));
}

function endsSentence(body: string, after: string): boolean {
  if (
    abbreviation.test(body) &&
    /^\s?[A-Z\d“"#,a-z(:]/.test(after) &&
    !/^(?:in|ft|oz|lbs?|inc|co|corp|ltd|llc|u\.s|a\.m|p\.m)$/i.test(body)
  )
    return false;
  if (/^[A-Z]$/.test(body) || /^(?:[A-Za-z]\.)+[A-Za-z]$/.test(body))
    return !/^\s?[A-Z]\w/.test(after) || after.trim() === "" ? after.trim() === "" : /^\s[A-Z]/.test(after) && body.length > 1;
  return !/^\s?[a-z,]/.test(after) || after === "";
}

function kindOf(text: string): TokenKind {
  if (/^#?\d+$/.test(text)) return "number";
  if (isMeasure(text)) return "measure";
  if (/^\d+(?:st|nd|rd|th)$/i.test(text)) return "word";
  if (hasDigit(text) || /^[A-Z]{2,}x{3,}$/.test(text) || /^[A-Z]{2,}(?:_[A-Z]+)+$/.test(text) || /^[A-Z]{2,}\([A-Za-z]\)$/.test(text))
    return "code";
  return /^(?=.*[A-Z].*[A-Z])[A-Z][A-Z/-]*$/.test(text) ? "capitals" : "word";
}

function token(clean: string, start: number, end: number, kind: TokenKind, days?: DaySpan): Token {
  const text = clean.slice(start, end);
  const bare = { text, lower: text.toLowerCase(), start, end, kind };
  return days ? { ...bare, days } : bare;
}

/** Joins what a text or its copy has torn: `QS- 124J`, and a number with the unit after it. */
export function mendTokens(tokens: readonly Token[], clean: string): Token[] {
  const mended: Token[] = [];
  for (let at = 0; at < tokens.length; at++) {
    const one = tokens[at] as Token;
    const mark = tokens[at + 1];
    const rest = tokens[at + 2];
    if (one.kind === "number" && mark && isUnitWord(mark.text)) {
      mended.push({ ...one, kind: "measure" });
    } else if (isTornNumber(one, mark, rest)) {
      const text = `${one.text}-${rest?.text}`;
      mended.push({ ...one, text, lower: text, end: rest?.end ?? one.end, kind: "code" });
      at += 2;
    } else if (
      (one.kind === "capitals" || one.kind === "code") &&
      mark?.text === "-" &&
      mark.start === one.end &&
      rest &&
      rest.start === mark.end + 1 &&
      /^[A-Z\d]/.test(rest.text) &&
      (rest.kind === "code" || rest.kind === "number")
    ) {
      const text = `${one.text}-${rest.text}`;
      mended.push({ ...one, text, lower: text.toLowerCase(), end: rest.end, kind: "code" });
      at += 2;
    } else if (mark && (isSplitCode(clean, one, mark, rest) || isLetterAndNumber(clean, tokens, at))) {
      const text = `${one.text} ${mark.text}`;
      mended.push({ ...one, text, lower: text.toLowerCase(), end: mark.end, kind: "code" });
      at += 1;
    } else if (one.kind === "code" && mark && /^[A-Z]\*$/.test(mark.text)) {
      const text = `${one.text} ${mark.text}`;
      mended.push({ ...one, text, lower: text.toLowerCase(), end: mark.end });
      at += 1;
    } else mended.push(one);
  }
  return mended;
}

/** `720- 10`: numbers of unlike length, the blank after the hyphen only. Of like length they are the ends of a range. */
function isTornNumber(one: Token, mark: Token | undefined, rest: Token | undefined): boolean {
  if (one.kind !== "number" || mark?.text !== "-" || rest?.kind !== "number") return false;
  return mark.start === one.end && rest.start === mark.end + 1 && one.text.length !== rest.text.length;
}

/** `model T 9820`: one capital and a long number, right after what announces a model or its number. */
function isLetterAndNumber(clean: string, tokens: readonly Token[], at: number): boolean {
  const [before, letter, digits] = [tokens[at - 1], tokens[at], tokens[at + 1]];
  if (!letter || digits?.kind !== "number" || !/^[A-HJ-Z]$/.test(letter.text) || !/^\d{3,5}$/.test(digits.text)) return false;
  const isAnnounced = /^(?:models?|numbers?|nos?\.?)$/.test(before?.lower ?? "");
  return isAnnounced && digits.start === letter.end + 1 && clean[letter.end] === " " && !isYear(digits.text);
}

/** `FE 350`, `TE 150i`: two to four capitals that mean nothing else, one blank, two to four digits that are no size or year. */
function isSplitCode(clean: string, letters: Token, digits: Token, next: Token | undefined): boolean {
  if (letters.kind !== "capitals" || !/^[A-Z]{2,4}$/.test(letters.text) || plainCapitals.has(letters.text)) return false;
  // `LARKFIELD 40V`: a voltage or power beside a name.
  if (digits.kind === "measure" && /[VW]$/.test(digits.text)) return false;
  if (digits.start !== letters.end + 1 || clean[letters.end] !== " " || !/^\d{2,4}[A-Za-z]?$/.test(digits.text) || isYear(digits.text))
    return false;
  return !(
    next &&
    (isUnitWord(next.text) || /^(?:and|or|to|-|,|by)$/.test(next.lower)) &&
    digits.kind === "number" &&
    digits.text.length < 3
  );
}
