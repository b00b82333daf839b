/** What a text says its signs stand for: "XXXX represents any four digits", "where x is a letter", "may vary". */
export interface WildcardMeaning {
  /** The sign that stands for a run of `x` or `X`: `#` digits, `@` letters, `?` anything. */
  readonly ofX: "#" | "@" | "?";
  /** The text defines runs of capital X, so that they are wildcards in models as well. */
  readonly definesX: boolean;
  /** The sign for one `*` where the text says so ("where * is any digit"), else null: any run. */
  readonly ofStar: "#" | "@" | "?" | null;
  /** A printed `*` is a footnote mark, not a wildcard. */
  readonly starIsFootnote: boolean;
  /** The last so many characters may vary, and are of this sign. */
  readonly tail: { readonly count: number; readonly sign: "#" | "@" | "?" } | null;
}

const counts: Readonly<Record<string, number>> = { one: 1, two: 2, three: 3, four: 4, five: 5, six: 6 };

export function wildcardMeaning(text: string): WildcardMeaning {
  const defined =
    /["“']?\b([xX]{1,8})\b["”']?\s+(?:represents?|stands?\s+for|is|are|can\s+be|may\s+be|indicates?|denotes?|means?)\s+([^.;]{0,80})/.exec(
      text,
    );
  const meaning = defined?.[2] ?? "";
  return {
    ofX: /digit|numer|number/i.test(meaning) ? (/letter/i.test(meaning) ? "?" : "#") : /letter/i.test(meaning) ? "@" : "?",
    definesX: defined !== null,
    ofStar: starMeaning(text),
    starIsFootnote: isFootnote(text),
    tail: varyingTail(text),
  };
}

/** "where * is any digit", "the asterisk represents a letter". */
function starMeaning(text: string): WildcardMeaning["ofStar"] {
  const meaning =
    /(?:["“']?\*["”']?|\basterisk)\s+(?:represents?|stands?\s+for|is|can\s+be|may\s+be|indicates?|denotes?|means?)\s+(?:any|an?|one)\s+(?:single\s+|one\s+)?(\w+)/i.exec(
      text,
    )?.[1];
  if (meaning === undefined) return null;
  if (/^(?:digit|number|numeral)/i.test(meaning)) return "#";
  return /^letter/i.test(meaning) ? "@" : /^character/i.test(meaning) ? "?" : null;
}

/** A star before a sentence or note of its own is a footnote mark, unless the note is about characters of the number. */
function isFootnote(text: string): boolean {
  const note = /(?:^|[\s.)”"])\*{1,2}\s?([A-Za-z][^*]{0,200})/.exec(text);
  return note !== null && !/character|digit|letter|wildcard|any number/i.test(note[1] ?? "");
}

function varyingTail(text: string): WildcardMeaning["tail"] {
  const match =
    /\b(?:the\s+)?(?:last|final)\s+(?:(one|two|three|four|five|six|\d)\s+)?(digit|number|letter|character)s?\s+(?:of\s+the\s+(?:model|serial|item)\s+numbers?\s+)?(?:may|can|will|might)\s+(?:vary|differ|be\s+different|change|be\s+any)/i.exec(
      text,
    );
  if (!match) return null;
  const count = match[1] === undefined ? 1 : (counts[match[1].toLowerCase()] ?? Number(match[1]));
  const noun = (match[2] ?? "").toLowerCase();
  return { count, sign: noun === "letter" ? "@" : noun === "character" ? "?" : "#" };
}

/** A printed code -> a pattern, its wildcards by what the text says. */
export function toPattern(code: string, meaning: WildcardMeaning): string {
  let pattern = code;
  const star = meaning.ofStar;
  if (star !== null) pattern = pattern.replace(/\*/g, () => star);
  if (meaning.starIsFootnote) pattern = pattern.replace(/\*+$/, "");
  pattern = pattern.replace(/\*{2,}/g, (stars) => "?".repeat(stars.length));
  pattern = pattern.replace(/\*(?=[A-Za-z\d])/g, "?");
  if (/\d/.test(pattern)) {
    pattern = pattern.replace(/(?<=[A-WYZ\d-])x+(?![a-wyz])/g, (run) => meaning.ofX.repeat(run.length));
    if (meaning.definesX || /X{4,}/.test(pattern))
      pattern = pattern.replace(/(?<=[A-WYZ\d*?-])X{2,}/g, (run) => meaning.ofX.repeat(run.length));
    else if (/(?<=\d-?)X{2,3}$/.test(pattern)) pattern = pattern.replace(/X{2,3}$/, (run) => meaning.ofX.repeat(run.length));
  }
  return pattern;
}

/** Applies "the last digit may vary" to a pattern that ends in such characters. */
export function withVaryingTail(pattern: string, tail: WildcardMeaning["tail"]): string {
  if (!tail || pattern.length <= tail.count || /[*?#@]$/.test(pattern)) return pattern;
  const end = pattern.slice(-tail.count);
  const fits = tail.sign === "#" ? /^\d+$/ : tail.sign === "@" ? /^[A-Za-z]+$/ : /^[A-Za-z\d]+$/;
  return fits.test(end) ? pattern.slice(0, -tail.count) + tail.sign.repeat(tail.count) : pattern;
}
