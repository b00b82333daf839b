import type { SpanField } from "./coverage";
import { maskNoise } from "./mask";
import type { Notice } from "./notice";
import { maskSections } from "./sections";

/** One text field of a notice. `clean` has the length of `text`, with what is never a statement blanked out, so that offsets agree. */
export interface Passage {
  readonly field: SpanField;
  readonly index: number | null;
  readonly text: string;
  readonly clean: string;
}

/** Texts longer than this are read to here only: a notice of the longest kind has a tenth of it. */
const longestRead = 100_000;

/** Headlines and names longer than this are read to here only. */
const longestName = 1_000;

/** The notice with its title and names cut to what is read of them. */
export function readablePart(notice: Notice): Notice {
  const cut = (names: readonly string[]) => names.slice(0, 50).map((name) => name.slice(0, longestName));
  return {
    ...notice,
    title: notice.title.slice(0, longestName),
    productNames: cut(notice.productNames),
    statedBrands: cut(notice.statedBrands),
    makers: cut(notice.makers),
    importers: cut(notice.importers),
    distributors: cut(notice.distributors),
  };
}

export function passage(field: SpanField, text: string, index: number | null = null): Passage {
  const read = text.length > longestRead ? text.slice(0, longestRead) : text;
  return { field, index, text: read, clean: maskNoise(read) };
}

/** The description, with the sections of a press release that say nothing about coverage blanked out. */
export function descriptionPassage(notice: Notice): Passage {
  const whole = passage("description", notice.description);
  return { ...whole, clean: maskSections(whole.clean) };
}
