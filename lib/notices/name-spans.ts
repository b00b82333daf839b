import type { Span, SpanField } from "./coverage";
import type { Notice } from "./notice";
import type { Passage } from "./passage";

/** Where the brands and products of a coverage stand in title, product names, makers and description: the first place in each. */
export function nameSpans(notice: Notice, description: Passage, names: readonly string[], kind: "brand" | "product"): Span[] {
  const fields: [SpanField, number | null, string][] = [
    ["title", null, notice.title],
    ...notice.productNames.map((text, at): [SpanField, number, string] => ["productNames", at, text]),
    ...notice.statedBrands.map((text, at): [SpanField, number, string] => ["statedBrands", at, text]),
    ["description", null, description.text],
  ];
  return names.flatMap((name) =>
    fields.flatMap(([field, index, text]) => {
      const start = text.toLowerCase().indexOf(name.toLowerCase());
      if (start < 0 || name === "") return [];
      return [{ field, ...(index === null ? {} : { index }), start, end: start + name.length, kind, reads: name }];
    }),
  );
}
