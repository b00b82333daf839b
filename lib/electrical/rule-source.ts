/**
 * Where a limit comes from. `confirmed` is true when the value was read in the document, in an identical adoption or in a
 * quotation of it; false marks a value from memory, to be confirmed against the official text.
 */
export interface RuleSource {
  readonly standard: string;
  /** The edition whose text it is, or `unnamedEdition`. */
  readonly edition: string;
  readonly clause: string;
  readonly confirmed: boolean;
}

/** What was read, or is remembered, does not say of which edition it is. */
export const unnamedEdition = "edition not named in what was read";

/** A rule of the product's own or of common practice has no edition. */
export const noEdition = "no edition";

/** The source in words: `IEC 60335-1 (5th edition), 10.1 Table 1 (from memory)`. */
export function sourceWords(source: RuleSource): string {
  const edition = [unnamedEdition, noEdition].includes(source.edition) ? "" : ` (${source.edition})`;
  const clause = source.clause === "" ? "" : `, ${source.clause}`;
  const isSourced = !source.standard.includes("no source");
  return `${source.standard}${edition}${clause}${source.confirmed || !isSourced ? "" : " (from memory)"}`;
}
