/** A place's name folded for finding it again: lower case, single spaces. */
export function nameKey(name: string): string {
  return name.normalize("NFKC").toLowerCase().replace(/\s+/g, " ").trim();
}

/** Canonical receptacle: a name in lower case or a 1-based number as text; `upper` is `1`, `lower` is `2`. */
export function receptacleKey(receptacle: string | null | undefined): string | null {
  const key = nameKey(receptacle ?? "");
  if (key === "") return null;
  if (key === "upper") return "1";
  if (key === "lower") return "2";
  return /^\d+$/.test(key) ? String(Number(key)) : key;
}

/** A receptacle as it is said: the two of a duplex outlet by their position. */
export function receptacleWords(receptacle: string | null, receptacles = 2): string | null {
  if (receptacle === null) return null;
  if (receptacles === 2 && receptacle === "1") return "upper";
  if (receptacles === 2 && receptacle === "2") return "lower";
  if (receptacles === 1 && receptacle === "1") return "single";
  return /^\d+$/.test(receptacle) ? `no. ${receptacle}` : receptacle;
}
