/** One record of CSV (RFC 4180) without its line end: cells are quoted only where they must be. */
export function csvLine(cells: readonly (string | number | null)[]): string {
  return cells.map(csvCell).join(",");
}

function csvCell(value: string | number | null): string {
  const text = value === null ? "" : String(value);
  return /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
