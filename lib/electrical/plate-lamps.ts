import type { PlacedQuantity } from "./plate-context";
import type { LampLimit } from "./rating";

/** Lamp caps and the words of lamp markings; a marking with one of them speaks of lamps. */
const lampWords =
  /\bTYPE\s?[A-Z]{1,3}\d{0,2}\b(?!\s*\d*\s*(?:NO|:))|\bE(?:1[0-4]|17|2[67]|39|40)\b|\bB(?:15|22)[dD]?\b|\bG(?:4|5(?:\.3)?|9|13|23|24|53)\b|\bG[UXY]\d{1,2}(?:\.\d+)?\b|\bR7s\b|\b(?:lamps?|bulbs?|lampholder|candelabra|halogen|incandescent|filament|globe)\b/i;

/** A bare `MAX 60W` is read as a lamp limit up to this many watts, above as an appliance's input. Common practice, no source. */
export const bareLampMaxWatts = 200;

function isLampQuantity(quantity: PlacedQuantity, text: string, alone: boolean): boolean {
  if (quantity.family !== "W" || quantity.section === "output") return false;
  if (quantity.role === "lamp") return true;
  const marked = quantity.max !== null || quantity.count > 1;
  if (lampWords.test(text)) return marked && alone;
  return quantity.max === "before" && alone && (quantity.count > 1 || Math.max(...quantity.values) <= bareLampMaxWatts);
}

function spelledCount(text: string): number {
  return Number(/\b(\d{1,2})\s*(?:lamps|bulbs|globes)\b/i.exec(text)?.[1] ?? 1);
}

/** The quantities that mark lamps: those named as lamps, else a single `MAX n W` or `n x W` on a plate without another input. */
export function lampQuantities(text: string, quantities: readonly PlacedQuantity[]): PlacedQuantity[] {
  const named = quantities.filter((quantity) => quantity.role === "lamp" && isLampQuantity(quantity, text, false));
  const powers = quantities.filter((quantity) => ["W", "A", "VA"].includes(quantity.family) && quantity.section !== "output");
  const allMarked =
    lampWords.test(text) && powers.every((quantity) => quantity.family === "W" && (quantity.max !== null || quantity.role === "lamp"));
  if (powers.length > 1 && allMarked) return powers;
  if (named.length > 0) return named;
  return powers.length === 1 ? powers.filter((quantity) => isLampQuantity(quantity, text, true)) : [];
}

/** The fixture's lamp limit; null when the plate marks none. */
export function lampLimitOf(text: string, marked: readonly PlacedQuantity[]): LampLimit | null {
  const [first] = marked;
  if (first === undefined) return null;
  const strongest = marked.reduce((best, quantity) => (Math.max(...quantity.values) > Math.max(...best.values) ? quantity : best), first);
  return { wattsEach: Math.max(...strongest.values), count: Math.max(strongest.count, spelledCount(text)) };
}
