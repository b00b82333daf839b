/** A text that a spreadsheet would run as a formula, kept a text by the quotation mark that spreadsheets know. */
export function inertText(text: string): string {
  return /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
}
