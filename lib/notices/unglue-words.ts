/**
 * Cells of a flattened table run into each other: `NumberSerial`, `GriddleQF36450G`, `Midi3350Manufactured`. This finds
 * the borders that words show; codes glued to codes need the shapes of their neighbours (see unglue-codes).
 */
const heading =
  "Models?|Numbers?|Serial|No\\.|Nos\\.|Codes?|UPC|SKUs?|Date|Range|Brand|Name|Product|Description|Size|Manufactured|Sold|Item|Color|Style|Series|Location|Begin|First|Last";
const borders: readonly RegExp[] = [
  // A heading after anything, and anything after a heading.
  new RegExp(`(?<=[a-z)#.:\\d])(?=(?:${heading})(?![a-z]))`, "g"),
  new RegExp(`(?<=(?:^|[^A-Za-z])(?:${heading}))(?=[A-Z(“"\\d][A-Za-z\\d]*)`, "g"),
  /(?<=[a-z](?:UPC|SKU|Code|Number|Model))(?=\d)/g,
  // A code after a word: small letters, then capitals and digits, or at least four digits.
  /(?<=[a-z]{2})(?=[A-Z][A-Z\d/-]{0,8}\d[A-Z\d-]{1,}|[A-Z]{2,5}\d)/g,
  /(?<=[a-z]{3}|[a-z]\))(?=\d{4,})/g,
  /(?<=[)”"])(?=[A-Z]{1,5}-?\d{2,})/g,
  // A word after a code.
  /(?<=\d)(?=[A-Z][a-z]{2,})/g,
  /(?<=[A-Z]{2}|\d[A-Z]|\/[A-Z])(?=[A-Z](?!x{3})[a-z]{3,})(?!T(?:begin|end|start))/g,
  /(?<=MUST)(?=begin|end|start)/g,
  /(?<=with)(?=OR|AND)|(?<=with(?:OR|AND))(?=SERIAL|MODEL)/g,
  /(?<=X{3})(?=[A-WYZ][a-z]{2})/g,
  // The next sentence or cell.
  /(?<=[a-z\d)]{2}[.:])(?=[A-Z][a-z])/g,
  /(?<=…)(?=\S)/g,
];

/** Splits one run of non-space text at the borders that words show; the parts joined give the run. */
export function unglueWords(run: string): string[] {
  if (run.length < 5 || /^[A-Z]?[a-z’'-]+[.,]?$/.test(run) || run.length > 5_000) return [run];
  const cuts = new Set<number>();
  for (const border of borders) for (const match of run.matchAll(border)) if (match.index > 0) cuts.add(match.index);
  if (cuts.size === 0) return [run];
  const parts: string[] = [];
  let from = 0;
  for (const cut of [...cuts].sort((a, b) => a - b)) {
    parts.push(run.slice(from, cut));
    from = cut;
  }
  parts.push(run.slice(from));
  return parts;
}
