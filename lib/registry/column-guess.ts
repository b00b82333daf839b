/** How a column of a foreign file was recognised. */
export type GuessGround = "name" | "values" | "none";

/** A header as compared: lower case letters and digits, words joined. */
export function headerKey(header: string): string {
  return header
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .toLowerCase()
    .replace(/#/g, " no ")
    .replace(/[^\p{L}\p{N}]+/gu, "");
}

/**
 * Gives each header the column whose own name or other names it has, each column once: exact names take precedence over
 * other names, earlier headers over later ones.
 */
export function matchHeaders<Column extends string>(
  headers: readonly string[],
  otherNames: Readonly<Record<Column, readonly string[]>>,
): Record<string, Column | null> {
  const columns = Object.keys(otherNames) as Column[];
  const taken = new Set<Column>();
  const mapping: Record<string, Column | null> = Object.fromEntries(headers.map((header) => [header, null]));
  const take = (isNamed: (column: Column, key: string) => boolean) => {
    for (const header of headers) {
      if (mapping[header] !== null) continue;
      const key = headerKey(header);
      const column = columns.find((candidate) => !taken.has(candidate) && isNamed(candidate, key));
      if (column === undefined) continue;
      mapping[header] = column;
      taken.add(column);
    }
  };
  take((column, key) => headerKey(column) === key);
  take((column, key) => otherNames[column].includes(key));
  return mapping;
}
