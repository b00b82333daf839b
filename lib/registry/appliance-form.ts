import { z } from "zod";
import { optionalFigure, optionalText } from "./place-form";

const made = optionalText(10).refine((text) => text === null || /^\d{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?)?$/.test(text), {
  error: "Write 2023, 2023-05 or 2023-05-17.",
});
const volts = optionalText(40).refine((text) => text === null || /\d/.test(text), {
  error: "Write volts as printed, such as 120, 100-240 or 120/240.",
});
const hertz = optionalText(20).refine((text) => text === null || /\d/.test(text), {
  error: "Write hertz as printed, such as 60 or 50/60.",
});
const lampWatts = optionalText(40).refine((text) => text === null || /\d/.test(text), {
  error: "Write the lamp limit as printed, such as 60 or 3 x 40.",
});
const upc = optionalText(20).refine((text) => text === null || /^[\d\s-]{6,18}$/.test(text), {
  error: "A UPC has digits only, 8 to 14 of them.",
});

/** What the appliance form sends. Every fact may be empty: what was not read stays unknown. */
export const applianceForm = z.object({
  tag: optionalText(64),
  siteId: z.string({ error: "Choose the site." }).min(1, "Choose the site.").max(64),
  unit: optionalText(120),
  outlet: optionalText(120),
  receptacle: optionalText(40),
  category: optionalText(80),
  brand: optionalText(120),
  model: optionalText(120),
  serial: optionalText(120),
  made,
  dateCode: optionalText(40),
  ratedVolts: volts,
  ratedHertz: hertz,
  ratedWatts: optionalFigure("W", 100_000),
  ratedAmps: optionalFigure("A", 1000),
  labelText: optionalText(4000),
  protectionClass: optionalText(20),
  maxLampWatts: lampWatts,
  mark: optionalText(120),
  upc,
  owner: optionalText(200),
  notes: optionalText(4000),
});
export const applianceNewForm = applianceForm.extend({ formId: z.uuid().optional() });
export const applianceEditForm = applianceForm.extend({ id: z.string().max(64), version: z.coerce.number().int() });

export type ApplianceFields = z.output<typeof applianceForm>;
/** The form as it is filled in: text in every field. */
export type ApplianceFormText = Record<keyof ApplianceFields, string>;

export const applianceFieldNames = Object.keys(applianceForm.shape) as (keyof ApplianceFields)[];

/** Field names as people say them. */
export const applianceFieldWords: Readonly<Record<keyof ApplianceFields, string>> = {
  tag: "Tag",
  siteId: "Site",
  unit: "Unit",
  outlet: "Outlet",
  receptacle: "Receptacle",
  category: "Kind of appliance",
  brand: "Maker",
  model: "Model",
  serial: "Serial no.",
  made: "Made",
  dateCode: "Date code",
  ratedVolts: "Volts",
  ratedHertz: "Hertz",
  ratedWatts: "Watts",
  ratedAmps: "Amps",
  labelText: "The plate's text",
  protectionClass: "Class",
  maxLampWatts: "Lamp limit, watts",
  mark: "Marks",
  upc: "UPC",
  owner: "Owner",
  notes: "Notes",
};
