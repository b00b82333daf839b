import { lowerAt } from "./cues";
import { hasDigit, type Token } from "./token";

/** How the values after a phrase are meant: as they stand, as a pattern, a beginning, an end, or the two ends of a range. */
export type Operator = "exact" | "pattern" | "begins" | "ends" | "contains" | "between" | "below" | "above" | "upTo" | "from";

const begins = /^(?:begins?|beginning|starts?|starting|begun|commenc(?:es?|ing)|prefix|prefixes|prefixed)$/;
const ends = /^(?:ends?|ending|suffix|suffixes)$/;

const counts = /^(?:one|two|three|four|five|six|[1-6])$/;
const places = /^(?:digits?|numbers?|letters?|characters?|numerals)$/;

/** "the first two digits", "last four characters": the operator, and the index after the phrase. */
export function endPlacesAt(tokens: readonly Token[], at: number): { operator: "begins" | "ends"; next: number } | null {
  const word = lowerAt(tokens, at);
  if (word !== "first" && word !== "last") return null;
  const noun = counts.test(lowerAt(tokens, at + 1)) ? at + 2 : at + 1;
  return places.test(lowerAt(tokens, noun)) ? { operator: word === "first" ? "begins" : "ends", next: noun + 1 } : null;
}

/** The operator phrase that begins at a token, and the index after it. */
export function operatorAt(tokens: readonly Token[], at: number): { operator: Operator; next: number } | null {
  const word = lowerAt(tokens, at);
  const outer = endPlacesAt(tokens, at);
  if (outer && /^(?:is|are|being)$/.test(lowerAt(tokens, outer.next))) return { operator: outer.operator, next: outer.next + 1 };
  const next = lowerAt(tokens, at + 1);
  if (word === "end" && /^(?:the|an?)$/.test(lowerAt(tokens, at - 1))) return null;
  if (begins.test(word))
    return {
      operator: "begins",
      next: skip(
        tokens,
        at + 1,
        /^(?:with|in|at|by|of|from|either|the|letters?|letter|digits?|numbers?|numerals|characters?|following|one|two|three|four|prefix|:|is|are)$/,
      ),
    };
  if (/^mustbegin$/.test(word)) return { operator: "begins", next: skip(tokens, at + 1, /^(?:with|…)$/) };
  if (ends.test(word))
    return { operator: "ends", next: skip(tokens, at + 1, /^(?:with|in|at|by|the|letters?|digits?|numbers?|either|…|:|suffix|is|are)$/) };
  if (/^alpha(?:betic|betical)?$/.test(word) && /^(?:characters?|letters?)$/.test(next)) return { operator: "contains", next: at + 2 };
  if (/^(?:containing|contains?)$/.test(word))
    return { operator: "contains", next: skip(tokens, at + 1, /^(?:the|letters?|digits?|numbers?|characters?)$/) };
  if (/^(?:between|ranging|ranges?)$/.test(word))
    return { operator: "between", next: skip(tokens, at + 1, /^(?:from|between|of|is|are|:|the|within|through)$/) };
  if (/^(?:within|in)$/.test(word) && /^(?:the|a)$/.test(next) && lowerAt(tokens, at + 2).startsWith("range"))
    return { operator: "between", next: skip(tokens, at + 3, /^(?:of|from|between|:)$/) };
  if ((word === "up" && next === "to") || (word === "through" && next === "and"))
    return { operator: "upTo", next: skip(tokens, at + 2, /^(?:and|including|to)$/) };
  const valueNext = tokens[at + 1]?.kind === "code" || tokens[at + 1]?.kind === "number";
  if (/^(?:below|before|under)$/.test(word)) return valueNext ? { operator: "below", next: at + 1 } : null;
  if (/^(?:prior|earlier|lower|less)$/.test(word) && /^(?:to|than)$/.test(next)) return { operator: "below", next: at + 2 };
  if (/^(?:above|after)$/.test(word)) return valueNext ? { operator: "above", next: at + 1 } : null;
  if (/^(?:higher|greater|later)$/.test(word) && next === "than") return { operator: "above", next: at + 2 };
  return null;
}

function skip(tokens: readonly Token[], from: number, words: RegExp): number {
  let at = from;
  while (words.test(lowerAt(tokens, at)) && tokens[at]?.kind !== "capitals") at += 1;
  return at;
}

/** "AB12 or earlier", "(AB12) and above": the open range that a value begins or ends, and the index after the phrase. */
export function openEndAt(tokens: readonly Token[], from: number): { operator: "upTo" | "from"; next: number } | null {
  const at = skip(tokens, from, /^(?:["“”)]|,)$/);
  if (!/^(?:or|and)$/.test(lowerAt(tokens, at))) return null;
  const word = lowerAt(tokens, at + 1);
  const ahead = tokens[at + 2]?.kind;
  if (ahead === "code" || ahead === "number") return null;
  if (/^(?:earlier|before|prior|lower|below|older|less|under)$/.test(word)) return { operator: "upTo", next: at + 2 };
  return /^(?:later|after|higher|above|newer|greater|up|onwards?)$/.test(word) ? { operator: "from", next: at + 2 } : null;
}

/** The index after "except", "excluding", "other than", "with the exception of", "but not"; null where none begins. */
export function isExclusionAt(tokens: readonly Token[], at: number): number | null {
  const word = lowerAt(tokens, at);
  const next = lowerAt(tokens, at + 1);
  if (/^(?:except|excluding|excludes|excluded|excepting)$/.test(word))
    return next === "for" || next === ":" || next === "are" || next === "is" ? at + 2 : at + 1;
  if (word === "not" && /^(?:recalled|included|affected|involved)$/.test(next) && lowerAt(tokens, at + 2) === ":") return at + 3;
  if (word === "other" && next === "than") return at + 2;
  if (word === "with" && next === "the" && lowerAt(tokens, at + 2) === "exception") return at + 4;
  if ((word === "but" || word === "and") && next === "not") return at + 2;
  if (word === "not" && tokens[at - 1]?.text === "," && hasDigit(tokens[at + 1]?.text ?? "")) return at + 1;
  return null;
}
