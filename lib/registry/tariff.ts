import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import { type EnergyRuleKind, type EnergyTariff, endEnergyRule, findTariffs, insertTariff } from "@/lib/store/tariff-queries";
import { dayKinds } from "@/lib/watch/energy-hour";
import type { Tariff, TariffPrices } from "@/lib/watch/tariff";

/** A day as typed or chosen: `2026-03-02`, a real one. */
export const dayField = z
  .string()
  .trim()
  .refine((text) => /^\d{4}-\d{2}-\d{2}$/.test(text) && new Date(`${text}T00:00:00Z`).toJSON()?.slice(0, 10) === text, {
    error: "Write a day like 2026-03-02.",
  });
export const optionalDay = z
  .string()
  .nullish()
  .transform((text) => text?.trim() || null)
  .pipe(dayField.nullable());

/** An hour of the clock, 0 to 24. */
export const hourField = z.coerce.number({ error: "Write a whole hour, 0 to 24." }).int("Write a whole hour, 0 to 24.").min(0).max(24);

const priceField = z
  .string()
  .trim()
  .transform((text) => Number(text.replace(",", ".") || Number.NaN))
  .pipe(
    z.number({ error: "Write a price of a kWh, such as 0.18." }).min(0, "A price is not below 0.").max(1000, "Write the price of one kWh."),
  );

const windowFields = z.object({
  name: z.string().trim().min(1).max(40),
  price: priceField,
  days: z.enum(dayKinds),
  fromHour: hourField,
  toHour: hourField,
});

/** How many price windows the form offers. */
export const windowRows = 3;

/** What the tariff form sends; a window whose name is empty is left out. */
export const tariffForm = z
  .looseObject({
    siteId: z.string().max(64),
    formId: z.uuid().optional(),
    name: z.string().trim().min(1, "Give the tariff a name.").max(80, "Keep it to 80 characters."),
    currency: z
      .string()
      .trim()
      .toUpperCase()
      .regex(/^[A-Z]{3}$/, "Write the three letters of the currency (ISO 4217), such as USD."),
    validFrom: dayField,
    validTo: optionalDay,
    base: priceField,
  })
  .transform((form, context) => {
    const windows: TariffPrices["windows"][number][] = [];
    for (let i = 0; i < windowRows; i++) {
      const field = (name: string) => form[`window${i}${name}`];
      const name = field("name");
      if (typeof name !== "string" || name.trim() === "") continue;
      const read = windowFields.safeParse(
        Object.fromEntries(["name", "price", "days", "fromHour", "toHour"].map((name) => [name, field(name)])),
      );
      if (read.success) windows.push(read.data);
      else {
        const [issue] = read.error.issues;
        context.addIssue({ code: "custom", path: [`window${i}${String(issue?.path[0])}`], message: `Window ${i + 1}: ${issue?.message}` });
      }
    }
    if (form.validTo !== null && form.validTo < form.validFrom)
      context.addIssue({ code: "custom", path: ["validTo"], message: "The last day is before the first: mend one of them." });
    const { siteId, formId, name, currency, validFrom, validTo, base } = form;
    return { siteId, formId, name, currency, validFrom, validTo, prices: { base, windows } };
  });
export type TariffInput = z.output<typeof tariffForm>;

export function tariffOf(row: EnergyTariff): Tariff {
  const { id, name, currency, validFrom, validTo } = row;
  return { id, name, currency, validFrom, validTo, prices: row.prices as unknown as TariffPrices };
}

/** A site's tariffs. Permission: `see readings`. */
export async function siteTariffs(db: Db, actor: Actor, siteId: string): Promise<Tariff[]> {
  requirePermission(actor, "see readings", siteId);
  return (await findTariffs(db, { organisationId: actor.organisationId, siteId })).map(tariffOf);
}

/** Adds a tariff. Of two that cover a day the later one counts, so that a rise of prices is simply added. Permission: `set site policy`. */
export async function addTariff(db: Store, actor: Actor, input: TariffInput & { readonly now: Date }): Promise<{ id: string }> {
  requirePermission(actor, "set site policy", input.siteId);
  const { organisationId } = actor;
  const { now, siteId, formId, ...tariff } = input;
  const id = formId ?? newId();
  return db.$transaction(async (tx) => {
    await requireSite(tx, organisationId, siteId);
    if (await wasMade(tx, "tariff", { id: formId, organisationId })) return { id };
    await insertTariff(tx, { id, organisationId, siteId, ...tariff, prices: tariff.prices as object, createdAt: now });
    const entry = { organisationId, at: now, actor: recordName(actor), what: "tariff added", subjectKind: "site", subjectId: siteId };
    await appendRecord(tx, [{ ...entry, after: { id, ...tariff } }]);
    return { id };
  });
}

/** The site must be the organisation's own. */
export async function requireSite(tx: Db, organisationId: string, siteId: string): Promise<void> {
  if (!(await findSite(tx, organisationId, siteId)))
    throw new Trouble("not_found", "This site is not there any more: choose it again under Building.");
}

const kindWords: Readonly<Record<EnergyRuleKind, string>> = { tariff: "tariff", limit: "use limit", event: "demand event", meter: "meter" };

export const endRuleForm = z.object({
  siteId: z.string().max(64),
  id: z.string().max(64),
  kind: z.enum(["tariff", "limit", "event", "meter"]),
});

/** Takes a tariff, use limit, demand event or meter away; what it said stays in the record. Permission: `set site policy`. */
export async function takeRuleAway(db: Store, actor: Actor, input: z.output<typeof endRuleForm> & { readonly now: Date }): Promise<void> {
  requirePermission(actor, "set site policy", input.siteId);
  const { organisationId } = actor;
  const { siteId, id, kind, now } = input;
  await db.$transaction(async (tx) => {
    if (!(await endEnergyRule(tx, kind, { organisationId, siteId, id }, now)))
      throw new Trouble("not_found", `This ${kindWords[kind]} was taken away already.`);
    const entry = { organisationId, at: now, actor: recordName(actor), subjectKind: "site", subjectId: siteId };
    await appendRecord(tx, [{ ...entry, what: `${kindWords[kind]} taken away`, before: { id } }]);
  });
}
