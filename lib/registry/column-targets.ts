import { parseRatingText } from "@/lib/electrical/parse-rating";
import { toGtin14 } from "@/lib/identity/gtin";
import { isOwnTag } from "@/lib/identity/tag-code";
import { headerKey, matchHeaders } from "./column-guess";
import { openCsvFile } from "./csv-source";
import type { ByteSource } from "./csv-text";
import { type LabelColumn, labelColumnNames } from "./label-columns";
import { guessMapping, type LabelTarget } from "./label-row";
import { guessPlaceMapping, placeColumns } from "./place-row";

const sampleRows = 200;

/** Columns that show themselves by their values, with the share of filled cells that must agree. */
const byValues: readonly (readonly [LabelColumn, (cell: string) => boolean])[] = [
  ["tag", isOwnTag],
  ["label_text", hasRating],
  ["upc", (cell) => cell.length >= 8 && toGtin14(cell) !== null],
];
const shareNeeded = 0.6;

/** A rating plate's text names a voltage and a power or current. */
function hasRating(cell: string): boolean {
  const { volts, watts, amps } = parseRatingText(cell);
  return volts.length > 0 && (watts !== null || amps !== null);
}

function filled(values: readonly string[]): string[] {
  return values.map((value) => value.trim()).filter((value) => value !== "");
}

/** Completes a guess by names with what the values show; a column that a name gave is not given again. */
export function completeByValues(
  mapping: Readonly<Record<string, LabelTarget | null>>,
  sample: readonly Readonly<Record<string, string>>[],
): Record<string, LabelTarget | null> {
  const result: Record<string, LabelTarget | null> = { ...mapping };
  for (const [column, fits] of byValues) {
    if (Object.values(result).includes(column)) continue;
    const header = Object.keys(result).find((name) => {
      if (result[name] !== "keep_in_notes") return false;
      const cells = filled(sample.map((record) => record[name] ?? ""));
      return cells.length > 0 && cells.filter(fits).length >= shareNeeded * cells.length;
    });
    if (header !== undefined) result[header] = column;
  }
  return result;
}

/** Guesses which of our columns each header of a file is, by names and, for labels, by the first rows' values. */
export async function guessTargets(kind: "labels" | "places", source: ByteSource): Promise<Record<string, string | null>> {
  const file = await openCsvFile(source);
  if (kind === "places") return guessPlaceMapping(file.headers);
  const sample: Readonly<Record<string, string>>[] = [];
  for await (const batch of file.batches) {
    sample.push(...batch.map((row) => row.record));
    if (sample.length >= sampleRows) break;
  }
  return completeByValues(guessMapping(file.headers), sample.slice(0, sampleRows));
}

/** One sentence on how a header's target was found, for the person who checks it. */
export function groundOf(kind: "labels" | "places", header: string, target: string | null): string {
  if (target === null) return "left out";
  if (target === "keep_in_notes") return "nothing of ours; kept in the notes";
  const key = headerKey(header);
  if (headerKey(target) === key) return "by its name";
  const named = kind === "places" ? guessPlaceMapping([header])[header] : matchHeaders<LabelColumn>([header], labelColumnNames)[header];
  if (named === target) return ambiguous(key) ?? "by its name";
  return named === null || named === undefined ? "by its values, or chosen" : "chosen";
}

/** Names that may mean something else as well; whoever wrote them knows. */
function ambiguous(key: string): string | null {
  if (key === "year" || key === "yr") return "year made, or year bought? Ask whoever typed it";
  if (key === "description" || key === "type") return "kind of appliance, or a model? Look at the first values";
  return key === "location" ? "the site, or a room? Look at the first values" : null;
}

/** The targets a person may choose from. */
export function targetsOf(kind: "labels" | "places"): readonly string[] {
  return kind === "places" ? placeColumns : [...Object.keys(labelColumnNames), "keep_in_notes"];
}
