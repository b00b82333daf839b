import { createHash } from "node:crypto";
import type { LabelRow } from "./label-row";
import { nameKey } from "./place-name";

/** What makes an untagged row the same as an earlier one when it has a serial number. */
export interface SerialRow {
  readonly siteId: string;
  readonly unitId: string | null;
  readonly brand: string | null;
  readonly model: string | null;
  readonly serial: string | null;
}

const digest = (parts: readonly (string | null)[]): string =>
  createHash("sha256")
    .update(parts.map((part) => part ?? "").join("\u001f"))
    .digest("base64url")
    .slice(0, 32);

/** Key of site, unit, brand, model and serial; null without a serial, since such appliances are never told to be the same by it. */
export function serialRowKey({ siteId, unitId, brand, model, serial }: SerialRow): string | null {
  const own = nameKey(serial ?? "");
  return own === "" ? null : `s:${digest([siteId, unitId, nameKey(brand ?? ""), nameKey(model ?? ""), own])}`;
}

const placeFields = ["site", "unit", "outlet", "receptacle"] as const;
type FactField = Exclude<keyof LabelRow, (typeof placeFields)[number] | "tag">;
/** Their order is part of every stored hash. */
const factFields: readonly FactField[] = [
  "category",
  "brand",
  "model",
  "serial",
  "made",
  "ratedVolts",
  "ratedHertz",
  "ratedWatts",
  "ratedAmps",
  "labelText",
  "protectionClass",
  "maxLampWatts",
  "mark",
  "upc",
  "owner",
  "notes",
  "dateCode",
];

/** What a row says, in two parts of equal length: where the appliance is, and what it is. */
export function rowHash(row: LabelRow): string {
  return digest(placeFields.map((field) => nameKey(row[field] ?? ""))) + digest(factFields.map((field) => row[field]));
}

/** True when two rows say the same of the place. */
export function samePlaceSaid(hash: string, earlier: string | null): boolean {
  return earlier !== null && hash.slice(0, hash.length / 2) === earlier.slice(0, earlier.length / 2);
}

/** Key of a row's whole content, for rows with neither tag nor serial. */
export function contentRowKey(hash: string): string {
  return `c:${hash}`;
}
