import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import { findEnergyHours } from "@/lib/store/energy-queries";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import { type DemandEvent, energyNames, findDemandEvents, findMeters, insertDemandEvent } from "@/lib/store/tariff-queries";
import { type DemandAnswer, demandAnswer, isWholeHours } from "@/lib/watch/demand-response";
import { unknownHolder } from "@/lib/watch/energy-holder";
import { hourMs } from "@/lib/watch/energy-hour";
import { grouped } from "@/lib/watch/grouped";
import { instantsOf } from "@/lib/watch/zone-time";
import { dayField, hourField } from "./tariff";

/** How many days back similar days are looked for. Own choice. */
export const lookBackDays = 60;

/** What the event form sends: a day and whole hours of the site's clock. */
export const demandForm = z
  .object({
    siteId: z.string().max(64),
    formId: z.uuid().optional(),
    name: z.string().trim().min(1, "Give the event a name.").max(80),
    day: dayField,
    fromHour: hourField,
    toHour: hourField,
    similarDays: z.coerce
      .number({ error: "Write how many days, such as 10." })
      .int("Write a whole number.")
      .min(3, "Fewer than 3 days are no baseline.")
      .max(30),
  })
  .refine(({ fromHour, toHour }) => fromHour < toHour, { error: "The event must end after it begins, on the same day.", path: ["toHour"] });

/** Adds a demand response event. Permission: `set site policy`. */
export async function addDemandEvent(
  db: Store,
  actor: Actor,
  input: z.output<typeof demandForm> & { readonly now: Date },
): Promise<{ id: string }> {
  requirePermission(actor, "set site policy", input.siteId);
  const { organisationId } = actor;
  const { siteId, formId, name, day, fromHour, toHour, similarDays, now } = input;
  const id = formId ?? newId();
  await db.$transaction(async (tx) => {
    const site = await findSite(tx, organisationId, siteId);
    if (!site) throw new Trouble("not_found", "This site is not there any more: choose it again under Building.");
    if (await wasMade(tx, "event", { id: formId, organisationId })) return;
    const wall = Date.parse(`${day}T00:00:00Z`) + fromHour * hourMs;
    const [fromMs] = instantsOf(site.timeZone ?? "UTC", wall);
    const stretch = { fromMs: fromMs ?? Number.NaN, toMs: (fromMs ?? Number.NaN) + (toHour - fromHour) * hourMs };
    if (!isWholeHours(stretch, site.timeZone))
      throw new Trouble("not_valid", "The clock of the site is changed in these hours: choose others.", {
        fromHour: "The clock is changed here.",
      });
    const event = { name, similarDays, fromAt: new Date(stretch.fromMs), toAt: new Date(stretch.toMs) };
    await insertDemandEvent(tx, { id, organisationId, siteId, ...event, createdAt: now });
    const entry = { organisationId, at: now, actor: recordName(actor), what: "demand event added", subjectKind: "site", subjectId: siteId };
    await appendRecord(tx, [{ ...entry, after: { id, ...event } }]);
  });
  return { id };
}

/** One appliance, or the whole site, in an event. */
export interface DemandLine {
  readonly id: string | null;
  readonly name: string;
  readonly detail: string | null;
  readonly answer: DemandAnswer;
}

export interface DemandView {
  readonly events: readonly DemandEvent[];
  readonly event: DemandEvent | null;
  readonly site: DemandLine | null;
  readonly lines: readonly DemandLine[];
}

/** The events of a site, and one of them checked: the site and each appliance against the same hours of similar days. Permission: `see readings`. */
export async function demandView(
  db: Db,
  actor: Actor,
  ask: { readonly siteId: string; readonly eventId: string | undefined },
): Promise<DemandView> {
  requirePermission(actor, "see readings", ask.siteId);
  const home = { organisationId: actor.organisationId, siteId: ask.siteId };
  const [site, events, meters] = await Promise.all([
    findSite(db, actor.organisationId, ask.siteId),
    findDemandEvents(db, home),
    findMeters(db, home),
  ]);
  if (!site) throw new Trouble("not_found", "There is no such site here: choose it again.");
  const event = events.find(({ id }) => id === ask.eventId) ?? (ask.eventId === undefined ? (events[0] ?? null) : null);
  if (event === null) return { events, event, site: null, lines: [] };
  const stretch = { fromMs: event.fromAt.getTime(), toMs: event.toAt.getTime() };
  const scope = { ...home, siteIds: null, without: meters.map(({ outletId }) => outletId) };
  const rows = await findEnergyHours(db, scope, stretch.fromMs - (lookBackDays + 1) * 24 * hourMs, stretch.toMs);
  const otherEvents = events
    .filter(({ id }) => id !== event.id)
    .map(({ fromAt, toAt }) => ({ fromMs: fromAt.getTime(), toMs: toAt.getTime() }));
  const method = { similarDays: event.similarDays, lookBackDays, zone: site.timeZone, otherEvents };
  const groups = grouped(rows, ({ applianceId }) => applianceId);
  const ids = [...groups.keys()].filter((id) => id !== unknownHolder);
  const names = new Map((await energyNames(db, ask.siteId, ids)).appliances.map((one) => [one.id, one]));
  const lines = [...groups].map(([id, own]): DemandLine => {
    const known = names.get(id);
    const detail = [known?.category, known?.brand, known?.model].filter(Boolean).join(", ") || null;
    return { id: id || null, name: known?.tag ?? (id ? "gone" : "nobody known"), detail, answer: demandAnswer(own, stretch, method) };
  });
  const told = lines.filter(({ answer }) => answer.kilowattHours > 0 || answer.days.length > 0);
  told.sort((a, b) => (b.answer.saved ?? Number.NEGATIVE_INFINITY) - (a.answer.saved ?? Number.NEGATIVE_INFINITY));
  return { events, event, site: { id: null, name: site.name, detail: null, answer: demandAnswer(rows, stretch, method) }, lines: told };
}
