/** What a printed unit measures; `ignored` units (battery charge, radio frequency) are read only to be passed over. */
export type UnitFamily = "V" | "Hz" | "W" | "VA" | "A" | "ignored";

export interface PlateUnit {
  readonly family: UnitFamily;
  readonly factor: number;
}

/** Units with their SI factors, by definition. Longest first; each is matched without regard to case at the place after a figure. */
const units: readonly (readonly [RegExp, PlateUnit])[] = [
  [/(?:mAh|Ah|kWh|Wh|MHz|GHz|kHz)(?![A-Za-z])/iy, { family: "ignored", factor: 1 }],
  [/kVA(?![A-Za-z])/iy, { family: "VA", factor: 1000 }],
  [/(?:VA|volt-?\s?amperes?)(?![A-Za-z])/iy, { family: "VA", factor: 1 }],
  [/(?:V\s?AC|V\s?DC|Vrms|volts?|V)(?![A-Za-z])/iy, { family: "V", factor: 1 }],
  [/(?:kW|kilowatts?)(?![A-Za-z])/iy, { family: "W", factor: 1000 }],
  [/(?:watts?|VV|W)(?![A-Za-z])/iy, { family: "W", factor: 1 }],
  [/(?:(?:Hz|hertz|cycles?)(?![A-Za-z])|H2(?![A-Za-z0-9]))/iy, { family: "Hz", factor: 1 }],
  [/mA(?![A-Za-z])/iy, { family: "A", factor: 0.001 }],
  [/(?:amperes?|amps?|A)(?![A-Za-z])/iy, { family: "A", factor: 1 }],
];

/** The unit that stands at `at`, after optional blanks or a joining hyphen; null when none does. */
export function unitAt(text: string, at: number): { readonly unit: PlateUnit; readonly end: number } | null {
  const gap = /\s{0,2}-?\s{0,1}(?:\(\s?)?/y;
  gap.lastIndex = at;
  const from = gap.test(text) ? gap.lastIndex : at;
  for (const [pattern, unit] of units) {
    pattern.lastIndex = from;
    if (!pattern.test(text)) continue;
    const lowerArticle = text.slice(from, pattern.lastIndex) === "a" && from > at;
    return lowerArticle ? null : { unit, end: pattern.lastIndex };
  }
  return null;
}

/**
 * A printed figure in the family's base unit. A comma before exactly three digits is a thousands mark in watts and volt-amperes
 * (`1,500 W`), and so is a point (`1.500 W`: no plate states milliwatts); otherwise a comma is a decimal mark. NaN when unreadable.
 */
export function figure(printed: string, unit: PlateUnit): number {
  const powerInBase = (unit.family === "W" || unit.family === "VA") && unit.factor === 1;
  if (powerInBase && /^[1-9]\d{0,2}(?:[.,]\d{3})+$/.test(printed)) return Number(printed.replace(/[.,]/g, ""));
  const marks = printed.match(/[.,]/g)?.length ?? 0;
  if (marks > 1) return /^\d{1,3}(?:,\d{3})+\.\d+$/.test(printed) ? Number(printed.replaceAll(",", "")) : Number.NaN;
  return Math.round(Number(printed.replace(",", ".")) * unit.factor * 1e6) / 1e6;
}
