/**
 * Where a limit comes from. `confirmed` is true when the value was read in the document, in an identical adoption or in a
 * quotation of it; false marks a value from memory, to be confirmed against the official text.
 */
export interface RuleSource {
  readonly standard: string;
  readonly edition: string;
  readonly clause: string;
  readonly confirmed: boolean;
}

/** The source in words: `IEC 60335-1 (5th edition), 10.1 Table 1 (from memory)`. */
export function sourceWords(source: RuleSource): string {
  const edition = source.edition === "" ? "" : ` (${source.edition})`;
  const clause = source.clause === "" ? "" : `, ${source.clause}`;
  const isSourced = !source.standard.includes("no source");
  return `${source.standard}${edition}${clause}${source.confirmed || !isSourced ? "" : " (from memory)"}`;
}
