import { lowerAt } from "./cues";
import type { Token } from "./token";

const partNoun =
  /^(?:compressors?|batter(?:y|ies)|chargers?|adapters?|motors?|valves?|regulators?|burners?|thermostats?|controllers?|switch(?:es)?|cords?|cordsets?|relays?|capacitors?|transformers?|ballasts?|igniters?|elements?|hoses?)$/;

/**
 * Whether the "model number" of a cue is that of a part: "refrigerators with Larkfield compressors with model number ...",
 * where the title is not about such parts.
 */
export function isOfPart(tokens: readonly Token[], cue: number, title: string): boolean {
  const joins = /^(?:with|having|,|bearing)$/.test(lowerAt(tokens, cue - 1));
  const noun = lowerAt(tokens, cue - 2);
  if (!joins || !partNoun.test(noun)) return false;
  const before = tokens.slice(Math.max(0, cue - 6), cue - 2).map((token) => token.lower);
  return (
    before.includes("with") &&
    !title
      .toLowerCase()
      .replace(/\s+with\s.*$/, "")
      .includes(noun.replace(/(?:ies|e?s)$/, ""))
  );
}

/** "receive a replacement model LF-25", "replaced by model LF-25", "compatible with model LF-25": another product's model. */
export function isOfAnother(tokens: readonly Token[], cue: number): boolean {
  const words = tokens
    .slice(Math.max(0, cue - 7), cue)
    .map((token) => token.lower)
    .join(" ");
  return (
    /\b(?:receive|receiving|provided?|providing|offer(?:ed|ing)?|send|sending|get|with|for) an? (?:free |new |redesigned |comparable )*replacement(?: \w+)?$/.test(
      words,
    ) ||
    /\b(?:replaced (?:by|with)|compatible with|for use with|exchanged? for|upgraded? to|equivalent to)(?: (?:the|a|an|new|newer))*$/.test(
      words,
    )
  );
}

/**
 * Whether a cue tells the model of another product that this one came with: "jars sold separately and with Larkfield Model
 * 1200 blenders", where neither title nor names say "blenders".
 */
export function isOfCompanion(tokens: readonly Token[], cue: number, after: number, title: string): boolean {
  let from = cue;
  while (from > cue - 5 && /^\p{Lu}/u.test(tokens[from - 1]?.text ?? "")) from -= 1;
  if (lowerAt(tokens, from - 1) !== "with") return false;
  const sold = tokens
    .slice(Math.max(0, from - 7), from)
    .some((token) => /^(?:sold|came|packaged|shipped|used|included)$/.test(token.lower));
  const noun = lowerAt(tokens, after);
  return sold && /^\p{Ll}{4,}$/u.test(noun) && !title.toLowerCase().includes(noun.replace(/s$/, ""));
}
