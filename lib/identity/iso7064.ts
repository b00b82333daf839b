/**
 * The pure systems of ISO 7064 (check character systems). A pure system multiplies and adds along the string and
 * catches every single wrong character and every swap of neighbours, which the hybrid systems do not quite.
 */
export interface PureSystem {
  readonly modulus: number;
  readonly radix: number;
  /** The characters in value order; the check alphabet may be longer than the payload's by the supplementary character. */
  readonly alphabet: string;
}

/** ISO 7064 MOD 37-2: digits and letters, `*` as the supplementary check character. */
export const mod37Radix2: PureSystem = { modulus: 37, radix: 2, alphabet: "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*" };

/** The check character of a payload; `null` when the payload has a character outside the system's alphabet. */
export function pureCheckCharacter(payload: string, system: PureSystem): string | null {
  let sum = 0;
  for (const character of payload) {
    const value = system.alphabet.indexOf(character);
    if (value < 0) return null;
    sum = ((sum + value) * system.radix) % system.modulus;
  }
  return system.alphabet[(system.modulus + 1 - sum) % system.modulus] ?? null;
}
