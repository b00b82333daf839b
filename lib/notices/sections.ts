import { blank } from "./mask";

/** Labels of a press release's sections; in exports they are glued to the text before them. `kept` sections speak of the product. */
const label =
  /(Name of [Pp]roducts?|Products?|Units?|Number of [Uu]nits|Manufacturers?|Importers?(?:\/Distributors?)?|Importer\/Manufacturer|Distributors?|Retailers?|Hazards?|Incidents?(?:\/Injur(?:y|ies))?|INCIDENTS?\/INJURIES|Injuries|Descriptions?(?: and Models?)?|Models?|Sold (?:at|by|to|through|with|in|exclusively at)|Distributed (?:through|by)|Manufactured [Ii]n|Made in|Remedy|Consumer Contact|CONSUMER CONTACT|Media Contact|Firm's Media Contact|Price|Cost|Note|PRODUCTS?|PROBLEM|WHAT TO DO) ?:|WASHINGTON, ?D\.?C\.?\s?(?:\([^)]{1,20}\)\s?)?-{1,2}/g;
const kept = /^(?:Name of|Product|Description|Model|Note|WASHINGTON)/i;
/** Sentences about shops and remedies in releases that have no labels. */
const aside =
  /\b(?:Consumers (?:should|can|may|who|will|with)|Owners of|Sold (?:at|by|exclusively)|For (?:more|additional) information|To (?:see|obtain|determine))[^.]{0,600}(?:\.|$)/g;

/** Blanks the sections that say nothing about coverage: units, hazard, incidents, shops, remedy, contacts. Length kept. */
export function maskSections(text: string): string {
  const found = [...text.matchAll(label)].filter((match) => isLabel(text, match.index));
  if (!found.some((match) => /^(?:Description|Units|Remedy|Hazard|PROBLEM)/i.test(match[0]))) return maskAsides(text);
  let masked = "";
  let from = 0;
  let keep = false;
  for (const match of found) {
    const part = text.slice(from, match.index);
    masked += keep ? part : blankExceptEnd(part);
    keep = kept.test(match[0]);
    masked += `${blank(match[0].slice(0, -1))}.`;
    from = match.index + match[0].length;
  }
  return masked + (keep ? text.slice(from) : blank(text.slice(from)));
}

/** A label starts a line or a sentence, or is glued to the text before it. */
function isLabel(text: string, at: number): boolean {
  const before = text.slice(Math.max(0, at - 2), at);
  return before === "" || /[.\d)a-z®™%?!"”]$/.test(before) || /[.!?)"”]\s$/.test(before) || /\s{2}$/.test(before);
}

function blankExceptEnd(part: string): string {
  return blank(part);
}

function maskAsides(text: string): string {
  return text.replace(aside, (sentence) => (/\b(?:model|serial|date code)s?\b.{0,40}\d/i.test(sentence) ? sentence : blank(sentence)));
}
