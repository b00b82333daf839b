import { z } from "zod";
import { type CheckName, checkNames, verdicts } from "@/lib/casework/inspection-checklist";
import { type InspectionEnvironment, inspectionEnvironments } from "@/lib/casework/inspection-due";

const text = (most: number) => z.string().trim().max(most).default("");
const figure = (most: number, unit: string) =>
  z
    .number({ error: `Write a number of ${unit}, or leave it empty.` })
    .min(0, `A figure below 0 ${unit} cannot be measured.`)
    .max(most, `More than ${most} ${unit} cannot be right: write ${most} where the instrument shows "over range".`)
    .nullable()
    .default(null);
const found = z.enum(["pass", "fail"]).nullable().default(null);

const checked = z.object({
  name: z.enum(checkNames as [CheckName, ...CheckName[]]),
  verdict: z.enum(verdicts),
  note: text(500),
});

/** What an inspection form sends, as JSON. `formId` is made by the phone once a form, so that sending twice records once. */
export const inspectionForm = z.object({
  formId: z.uuid(),
  applianceId: z.uuid(),
  at: z.iso.datetime({ error: "The time of the inspection is missing: open the form again." }),
  environment: z.enum(inspectionEnvironments as [InspectionEnvironment, ...InspectionEnvironment[]], { error: "Choose where it is used." }),
  protectionClass: z.enum(["I", "II", "III"]).nullable().default(null),
  cordMetres: figure(500, "m"),
  cordSquareMillimetres: figure(50, "mm2"),
  isHandHeld: z.boolean().default(false),
  checklist: z
    .array(checked)
    .max(checkNames.length)
    .refine((list) => new Set(list.map(({ name }) => name)).size === list.length, { error: "An item of the checklist came twice." }),
  measured: z.object({
    conductorOhms: figure(10_000, "ohm"),
    insulationMegohms: figure(100_000, "Mohm"),
    conductorMilliamps: figure(1000, "mA"),
    touchMilliamps: figure(1000, "mA"),
    polarity: found,
    functional: found,
  }),
  instrumentIds: z.array(z.uuid()).max(10).default([]),
  /** Why it could not be complete, in the inspector's words; empty when it was. */
  limitedWhy: text(500),
  notes: text(2000),
  takeOutOfUse: z.boolean().default(false),
  signedName: z.string().trim().min(1, "Sign with your name.").max(120),
  correctsId: z.uuid().nullable().default(null),
  correctionWhy: text(500),
});
export type InspectionForm = z.output<typeof inspectionForm>;
