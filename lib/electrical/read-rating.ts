import { figureContradictions } from "./contradictions";
import { parseRatingText } from "./parse-rating";
import { protectionClassOf } from "./plate-marks";
import type { ProtectionClass, Rating } from "./rating";

/** The rating columns of a labels file, as text; null or empty is unknown. */
export interface RatingColumns {
  readonly ratedVolts: string | null;
  readonly ratedHertz: string | null;
  readonly ratedWatts: string | null;
  readonly ratedAmps: string | null;
  readonly labelText: string | null;
  readonly protectionClass: string | null;
  readonly maxLampWatts: string | null;
}

/** A cell as plate text: the unit is added where the cell gives figures only. */
function withUnit(cell: string | null, unit: string): string | null {
  const text = cell?.trim() ?? "";
  if (text === "") return null;
  return /\p{L}\s*~?\s*$/u.test(text) ? text : `${text} ${unit}`;
}

interface ColumnReading {
  readonly rating: Rating | null;
  readonly problems: readonly string[];
}

function readColumn(column: string, cell: string | null, unit: string, isRead: (rating: Rating) => boolean): ColumnReading {
  const text = withUnit(cell, unit);
  if (text === null) return { rating: null, problems: [] };
  const rating = parseRatingText(text);
  if (isRead(rating)) return { rating, problems: [] };
  return { rating: null, problems: [`The column ${column} holds "${cell}", which gives no ${unit}; write it like ${examples[column]}.`] };
}

const examples: Readonly<Record<string, string>> = {
  rated_volts: "120, 100-240 or 120/240",
  rated_hertz: "60 or 50/60",
  rated_watts: "1500",
  rated_amps: "12.5",
};

/** `2`, `II` or `class 2` in the class column are all class II. */
function classCell(cell: string | null): ProtectionClass | null {
  const bare = /^\s*(?:class\s*)?(?:(I{1,3})|([0123]))\s*$/i.exec(cell ?? "");
  if (bare?.[1] !== undefined) return bare[1].toUpperCase() as ProtectionClass;
  const figured = ([null, "I", "II", "III"] as const)[Number(bare?.[2] ?? 0)] ?? null;
  return figured ?? (cell === null ? null : protectionClassOf(cell));
}

function lampCell(cell: string | null): { lamp: Rating["lamp"]; problems: readonly string[] } {
  const text = cell?.trim() ?? "";
  if (text === "") return { lamp: null, problems: [] };
  const found = /^(?:(\d{1,2})\s*[x\u00d7]\s*)?(?:max\.?\s*)?(\d+(?:[.,]\d+)?)\s*(?:W|watts?)?(?:\s*max\.?)?$/i.exec(text);
  if (found === null)
    return {
      lamp: null,
      problems: [`The column max_lamp_watts holds "${cell}", which gives no lamp limit; write it like 60 or 3 x 40.`],
    };
  return { lamp: { wattsEach: Number(found[2]!.replace(",", ".")), count: Number(found[1] ?? 1) }, problems: [] };
}

/** Figures of column and plate that differ by more than 5 % are both shown; the column is used. */
function disagreement(column: string, unit: string, columnValue: number | null, plateValue: number | null): string[] {
  if (columnValue === null || plateValue === null || Math.abs(columnValue - plateValue) <= 0.05 * columnValue) return [];
  const share = Math.round((plateValue / columnValue) * 1000) / 10;
  return [`The column ${column} says ${columnValue} ${unit}, the plate text ${plateValue} ${unit} (${share} % of it); the column is used.`];
}

/** Watts of pairs and parts in the text still hold when the column repeats one of them. */
function keepsPairs(text: Rating, columnWatts: number | null): boolean {
  return columnWatts === null || text.watts === columnWatts || text.wattsAtVolts.some((pair) => pair.watts === columnWatts);
}

/**
 * The rating of a labels row: the separate columns first, the plate's text fills what they leave empty. Disagreements
 * between the two, unreadable cells and contradictions on the plate are sentences in `contradictions`.
 */
export function readRating(columns: RatingColumns): Rating {
  const text = parseRatingText(columns.labelText ?? "");
  const volts = readColumn("rated_volts", columns.ratedVolts, "V", (rating) => rating.volts.length > 0);
  const hertz = readColumn("rated_hertz", columns.ratedHertz, "Hz", (rating) => rating.hertz.length > 0);
  const watts = readColumn("rated_watts", columns.ratedWatts, "W", (rating) => rating.watts !== null || rating.lamp !== null);
  const amps = readColumn("rated_amps", columns.ratedAmps, "A", (rating) => rating.amps !== null);
  const lamp = lampCell(columns.maxLampWatts);
  const columnWatts = watts.rating?.watts ?? null;
  const keeps = keepsPairs(text, columnWatts);
  const { ampsAtVolts, ...rest } = text;
  const columnAmps = amps.rating?.amps ?? null;
  const keepsAmps = ampsAtVolts !== undefined && (columnAmps === null || ampsAtVolts.some((pair) => pair.amps === columnAmps));
  const merged: Rating = {
    ...rest,
    ...(keepsAmps ? { ampsAtVolts } : {}),
    volts: volts.rating?.volts ?? text.volts,
    hertz: hertz.rating?.hertz ?? text.hertz,
    watts: columnWatts ?? text.watts,
    wattsAtVolts: keeps ? text.wattsAtVolts : [],
    motorWatts: keeps ? text.motorWatts : null,
    amps: columnAmps ?? text.amps,
    protectionClass: classCell(columns.protectionClass) ?? text.protectionClass,
    lamp: lamp.lamp ?? watts.rating?.lamp ?? text.lamp,
  };
  const sentences = [
    ...[volts, hertz, watts, amps, lamp].flatMap((reading) => reading.problems),
    ...(keeps ? [] : disagreement("rated_watts", "W", columnWatts, text.watts)),
    ...(keepsAmps ? [] : disagreement("rated_amps", "A", columnAmps, text.amps)),
    ...text.contradictions,
    ...figureContradictions(merged),
  ];
  return { ...merged, contradictions: [...new Set(sentences)] };
}
