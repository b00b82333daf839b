import { toGtin14 } from "@/lib/identity/gtin";
import { partsOf, type Token } from "./token";

/**
 * Cells whose own build shows where they end: a product code with a right check digit before the next row's code
 * (`012345678905QV100W`), and rows of a model and a range whose two ends begin with the same letters
 * (`HWB-10HW100001-HW100500`).
 */
export function unglueCells(tokens: readonly Token[]): Token[] {
  return tokens.flatMap((token) => {
    if (token.kind !== "code" || token.text.length < 15) return [token];
    const cells = productCodeFirst(token.text) ?? modelsAndRanges(token.text);
    return cells === null ? [token] : partsOf(token, cells);
  });
}

function productCodeFirst(text: string): string[] | null {
  const [, digits = ""] = /^(\d{12,13})[A-Z]{1,5}-?\d/.exec(text) ?? [];
  return digits !== "" && toGtin14(digits) !== null ? [digits, text.slice(digits.length)] : null;
}

const row = /([A-Z]{1,5}-?\d{1,6})(([A-Z]{1,4})(\d{4,12})-\3(\d{4,12}))/g;

/** Null unless rows of that build make up the whole text. */
function modelsAndRanges(text: string): string[] | null {
  const rows = [...text.matchAll(row)].map(([, model = "", range = "", , low = "", high = ""]) => ({ model, range, low, high }));
  const isWhole = rows.map(({ model, range }) => model + range).join("") === text;
  const areRanges = rows.every(({ low, high }) => low.length === high.length && low <= high);
  return rows.length > 0 && isWhole && areRanges ? rows.flatMap(({ model, range }) => [model, range]) : null;
}
