import { madeSpan } from "@/lib/identity/made";
import type { CellReading } from "./cell-text";

const months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const two = (part: string | undefined) => (part ?? "").padStart(2, "0");

/** Other ways of writing a manufacture date that have one meaning only. */
const writings: readonly (readonly [RegExp, (parts: readonly string[]) => string | null])[] = [
  [/^(\d{4})[/.](\d{1,2})$/, ([, year, month]) => `${year}-${two(month)}`],
  [/^(\d{1,2})[/.-](\d{4})$/, ([, month, year]) => `${year}-${two(month)}`],
  [/^(\d{4})[/.](\d{1,2})[/.](\d{1,2})$/, ([, year, month, day]) => `${year}-${two(month)}-${two(day)}`],
  [/^(\d{4})-(\d{1,2})(?:-(\d{1,2}))?$/, ([, year, month, day]) => `${year}-${two(month)}${day === undefined ? "" : `-${two(day)}`}`],
  [/^(\d{4}-\d{2}-\d{2})[T ]\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:?\d{2})?$/, ([, day]) => day ?? null],
  [/^([a-z]{3})[a-z]*\.?,?\s+(\d{4})$/i, ([, name, year]) => named(name, year)],
  [/^(\d{4})\s+([a-z]{3})[a-z]*\.?$/i, ([, year, name]) => named(name, year)],
  [/^(\d{1,2})[/.](\d{1,2})[/.](\d{4})$/, ([, first, second, year]) => unambiguous(Number(first), Number(second), year)],
];

function named(name: string | undefined, year: string | undefined): string | null {
  const month = months.indexOf((name ?? "").toLowerCase()) + 1;
  return month === 0 ? null : `${year}-${two(String(month))}`;
}

/** Day and month in either order, where only one order makes a date. */
function unambiguous(first: number, second: number, year: string | undefined): string | null {
  const monthFirst = first <= 12 && second <= 31;
  const dayFirst = second <= 12 && first <= 31;
  if (monthFirst === dayFirst && first !== second) return null;
  const [month, day] = monthFirst ? [first, second] : [second, first];
  return `${year}-${two(String(month))}-${two(String(day))}`;
}

/** Reads the column `made`: YYYY, YYYY-MM or YYYY-MM-DD; other writings are mended where they have one meaning only. */
export function readMade(text: string): CellReading {
  if (madeSpan(text)) return { value: text };
  for (const [pattern, toIso] of writings) {
    const parts = pattern.exec(text);
    const iso = parts ? toIso(parts) : null;
    if (iso !== null && madeSpan(iso)) return { value: iso, mended: `read as ${iso}` };
  }
  return { value: null, problem: `"${text}" is no manufacture date: write 2019, 2019-03 or 2019-03-28.` };
}
