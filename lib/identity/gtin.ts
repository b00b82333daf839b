/** GS1 check digit: weights 3 and 1 from the right. `body` is the number without its check digit. */
export function gtinCheckDigit(body: string): number {
  let sum = 0;
  for (let at = 0; at < body.length; at++) sum += Number(body[body.length - 1 - at]) * (at % 2 === 0 ? 3 : 1);
  return (10 - (sum % 10)) % 10;
}

/**
 * A GTIN-8, UPC-A, GTIN-13 or GTIN-14 as 14 digits for comparing; `null` when the length or the check digit is wrong. Eleven
 * digits are a UPC-A whose leading 0 a spreadsheet dropped.
 */
export function toGtin14(text: string): string | null {
  const digits = text.replace(/[\s.-]+/g, "");
  if (!/^(?:\d{8}|\d{11,14})$/.test(digits)) return null;
  if (gtinCheckDigit(digits.slice(0, -1)) !== Number(digits.at(-1))) return null;
  return digits.padStart(14, "0");
}
