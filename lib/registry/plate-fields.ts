import { parseRatingText } from "@/lib/electrical/parse-rating";
import { ratingCells } from "@/lib/electrical/rating-words";
import { readPlateIdentity } from "@/lib/identity/plate-identity";
import type { ApplianceFormText } from "./appliance-form";

type PlateField =
  | "brand"
  | "model"
  | "serial"
  | "dateCode"
  | "ratedVolts"
  | "ratedHertz"
  | "ratedWatts"
  | "ratedAmps"
  | "protectionClass"
  | "maxLampWatts";

/** What a plate's text fills in, and where it contradicts itself. */
export interface PlateFields {
  readonly fields: Partial<Pick<ApplianceFormText, PlateField>>;
  readonly contradictions: readonly string[];
}

/** A watt figure that fits a field of one number; pairs at several voltages stay in the text. */
function single(cell: string | null): string | null {
  return cell !== null && /^\d+(\.\d+)?$/.test(cell) ? cell : null;
}

/** Reads a plate's text into form fields. Only what it says is there; nothing is guessed. */
export function readPlateFields(text: string): PlateFields {
  const identity = readPlateIdentity(text);
  const rating = parseRatingText(text);
  const cells = ratingCells(rating);
  const lamp = rating.lamp && (rating.lamp.count === 1 ? `${rating.lamp.wattsEach}` : `${rating.lamp.count} x ${rating.lamp.wattsEach}`);
  const all: Record<PlateField, string | null> = {
    brand: identity.brand,
    model: identity.model,
    serial: identity.serial,
    dateCode: identity.dateCode,
    ratedVolts: cells.volts,
    ratedHertz: cells.hertz,
    ratedWatts: rating.watts === null ? null : single(cells.watts),
    ratedAmps: single(cells.amps),
    protectionClass: rating.protectionClass,
    maxLampWatts: lamp,
  };
  const fields = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== null)) as PlateFields["fields"];
  return { fields, contradictions: rating.contradictions };
}
