import type { Span } from "./coverage";
import { span } from "./draft";
import type { Passage } from "./passage";

/** "The model number is printed on a label on the bottom of the unit": where to look. */
const where =
  /\b((?:model|serial|date code|batch|lot|UPC|SKU|item)[^.;]{0,120}?\b(?:is|are|can be|appears?)?\s*(?:located|printed|found|stamped|embossed|engraved|etched|written|displayed|molded|marked|visible)\s+((?:on|in|inside|under|underneath|at|above|below|behind|near|along|onto|directly|by)\b[^.;]{3,240}))/gi;

export function locationSpans(passage: Passage): Span[] {
  return [...passage.clean.matchAll(where)].map((match) => {
    const start = match.index + match[0].length - (match[2] ?? "").length;
    const place = { start, end: start + (match[2] ?? "").trimEnd().length };
    return span(passage, place, "location", (match[2] ?? "").trim());
  });
}
