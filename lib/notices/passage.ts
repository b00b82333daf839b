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
const longestRead = 200_000;

export function passage(field: SpanField, text: string, index: number | null = null): Passage {
  const read = text.length > longestRead ? text.slice(0, longestRead) : text;
  return { field, index, text: read, clean: maskNoise(read) };
}

/** The description, with the sections of a press release that say nothing about coverage blanked out. */
export function descriptionPassage(notice: Notice): Passage {
  const whole = passage("description", notice.description);
  return { ...whole, clean: maskSections(whole.clean) };
}
