const positions: ReadonlyMap<string, string> = new Map([
  ["upper", "1"],
  ["top", "1"],
  ["lower", "2"],
  ["bottom", "2"],
]);

/** Canonical receptacle: lower case, `upper` is `1`, `lower` is `2`, a number without leading zeros; null when none is named. */
export function receptacleName(text: string | null | undefined): string | null {
  const name = text?.trim().toLowerCase() ?? "";
  if (name === "") return null;
  if (/^\d+$/.test(name)) return String(Number(name));
  return positions.get(name) ?? name;
}
