import { z } from "zod";
import type { SeenValues } from "@/lib/access/changed-meanwhile";

const tooLong = (most: number) => `Keep it to ${most} characters.`;

/** A name as typed: spaces folded, one to `most` characters. */
export const nameField = (what: string, most = 120) =>
  z
    .string({ error: `Give the ${what} a name.` })
    .transform((text) => text.replace(/\s+/g, " ").trim())
    .pipe(z.string().min(1, `Give the ${what} a name.`).max(most, tooLong(most)));

/** Text that may be left empty; empty is null. */
export const optionalText = (most: number) =>
  z
    .string()
    .nullish()
    .transform((text) => text?.trim() || null)
    .pipe(z.string().max(most, tooLong(most)).nullable());

/** A figure as typed (`,` or `.`), or empty, which is null. */
export const optionalFigure = (unit: string, most: number) =>
  z
    .union([z.string(), z.number()])
    .nullish()
    .transform((given) => (typeof given === "string" ? given.trim().replace(",", ".") : given))
    .transform((given) => (given === "" || given === null || given === undefined ? null : Number(given)))
    .pipe(
      z
        .number({ error: `Write a figure in ${unit}, such as 15, or leave it empty.` })
        .positive(`It must be more than 0 ${unit}; leave it empty when it is not known.`)
        .max(most, `It cannot be more than ${most} ${unit}.`)
        .nullable(),
    );

function isTimeZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: zone });
    return /\//.test(zone) || zone === "UTC";
  } catch {
    return false;
  }
}

const timeZone = optionalText(64).refine((zone) => zone === null || isTimeZone(zone), {
  error: "Write an IANA time zone, such as America/Chicago or Europe/Vienna.",
});

const id = z.string().max(64);
const optionalId = id.nullish().transform((given) => given || null);

/** The mark of what an edit form was filled from; see `requireSeen`. */
export const seenText = z.string().max(64).optional();

/** What the forms of the building send. `id` is there when an existing place is edited. */
export const siteForm = z.object({
  id: optionalId,
  name: nameField("site"),
  timeZone,
  nominalVolts: optionalFigure("V", 1000),
  seen: seenText,
});
export const unitForm = z.object({ id: optionalId, siteId: id, name: nameField("unit"), seen: seenText });
export const circuitForm = z.object({
  id: optionalId,
  siteId: id,
  unitId: optionalId,
  name: nameField("circuit"),
  deviceAmps: optionalFigure("A", 1000),
  volts: optionalFigure("V", 1000),
  leg: optionalText(20),
  seen: seenText,
});
export const outletForm = z.object({
  id: optionalId,
  siteId: id,
  unitId: optionalId,
  circuitId: optionalId,
  name: nameField("outlet"),
  outletAmps: optionalFigure("A", 200),
  receptacles: z.coerce
    .number({ error: "Write how many plugs it takes, 1 to 24." })
    .int("Write a whole number.")
    .min(1, "An outlet has at least 1 receptacle.")
    .max(24, "Write 24 at most."),
  seen: seenText,
});

/** What a form can change of each place, by its fields. */
const changeable = {
  site: ["name", "timeZone", "nominalVolts"],
  unit: ["name"],
  circuit: ["name", "unitId", "deviceAmps", "volts", "leg"],
  outlet: ["name", "unitId", "circuitId", "outletAmps", "receptacles"],
} as const;

/** What a form was filled from, or can change; null for a place that is not there yet. */
export function placeSeen(kind: keyof typeof changeable, row: object | null): SeenValues | null {
  return row && Object.fromEntries(changeable[kind].map((name) => [name, Reflect.get(row, name) as string | number | null]));
}

export type SiteInput = z.output<typeof siteForm>;
export type UnitInput = z.output<typeof unitForm>;
export type CircuitInput = z.output<typeof circuitForm>;
export type OutletInput = z.output<typeof outletForm>;
