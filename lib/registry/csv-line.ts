import Papa from "papaparse";

/** One record of CSV (RFC 4180) without its line end: cells are quoted only where they must be. */
export function csvLine(cells: readonly (string | number | null)[]): string {
  return Papa.unparse([[...cells]]);
}
