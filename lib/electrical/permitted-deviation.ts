import { type DeviationSet, type DeviationSetName, deviationSets, usualDeviationSet } from "./deviation-sets";
import { type DeviationTableName, deviationTables, filamentLampExtraWatts, permittedInput } from "./deviation-tables";
import type { LoadKind } from "./load-kind";
import { ratedInput } from "./rated-input";
import type { LampLimit, Rating } from "./rating";
import { sourceWords } from "./rule-source";

export { ratedInput } from "./rated-input";

/** What an appliance may draw: the rated input plus its permitted deviation. */
export interface AllowedInput {
  readonly watts: number | null;
  readonly amps: number | null;
  /** One sentence that names the standard and shows the arithmetic. */
  readonly rule: string;
}

/** Whether the motor row applies to a combined appliance: the motor takes more than half of the rated input (IEC 60335-1, 10.1). */
export function motorLeads(rating: Rating): boolean {
  return rating.motorWatts !== null && rating.watts !== null && rating.motorWatts > rating.watts / 2;
}

function tablesFor(kind: LoadKind, rating: Rating, set: DeviationSet): readonly [DeviationTableName, DeviationTableName] {
  if (kind === "electronics") return set.electronics;
  if (kind === "heating" || kind === "lamp") return set.heating;
  return kind === "combined" && !motorLeads(rating) ? set.heating : set.motor;
}

function kindWords(kind: LoadKind, rating: Rating): string {
  if (kind === "combined") return motorLeads(rating) ? "combined, the motor takes more than half" : "combined, heating row";
  if (kind === "unknown") return "kind not known, so the most permissive row";
  return kind === "small_motor" ? "small motor" : kind;
}

/** Round to at most three decimals, for words. */
function short(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}

function sentence(unit: "W" | "A", rated: number, name: DeviationTableName, who: string): string {
  const bound = permittedInput(name, rated);
  return `${short(rated)} ${unit} ${bound.words} = ${short(bound.ceiling)} ${unit} by ${sourceWords(deviationTables[name].source)} (${who})`;
}

/**
 * The highest input an appliance may draw at its rated voltage. Watts by the watt table where the plate has watts, amps by
 * the current table where it has amps; null where the plate is silent. `siteVolts` chooses among printed pairs, `set` the standard
 * and edition.
 */
export function allowedInput(
  rating: Rating,
  kind: LoadKind,
  siteVolts: number | null,
  set: DeviationSetName = usualDeviationSet,
): AllowedInput {
  const rated = ratedInput(rating, siteVolts);
  const [wattTable, ampTable] = tablesFor(kind, rating, deviationSets[set]);
  const who = kindWords(kind, rating);
  const parts = [
    ...(rated.watts === null ? [] : [sentence("W", rated.watts, wattTable, who)]),
    ...(rated.amps === null ? [] : [sentence("A", rated.amps, ampTable, who)]),
  ];
  return {
    watts: rated.watts === null ? null : permittedInput(wattTable, rated.watts).ceiling,
    amps: rated.amps === null ? null : permittedInput(ampTable, rated.amps).ceiling,
    rule: parts.length === 0 ? "The plate gives neither watts nor amps, so no limit is known." : `${parts.join("; ")}.`,
  };
}

/** What the lamps of a fixture may draw together at rated voltage: the marked maximum and a filament lamp's own tolerance. */
export function allowedLamps(lamp: LampLimit): { readonly watts: number; readonly rule: string } {
  const marked = lamp.wattsEach * lamp.count;
  const watts = permittedInput("filamentLamp", marked).ceiling + filamentLampExtraWatts * lamp.count;
  const each = lamp.count === 1 ? `MAX ${short(lamp.wattsEach)} W` : `${lamp.count} x MAX ${short(lamp.wattsEach)} W = ${short(marked)} W`;
  return { watts, rule: `${each}; lamps of that size may draw ${short(watts)} W by ${sourceWords(deviationTables.filamentLamp.source)}.` };
}
