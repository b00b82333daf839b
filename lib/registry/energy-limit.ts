import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type FindingThing, findingKey } from "@/lib/casework/cause";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import type { Db, Store } from "@/lib/store/client";
import { type EnergyScope, energyExtent, type SiteHour, sumByHour } from "@/lib/store/energy-queries";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import type { Site } from "@/lib/store/rows";
import { type EnergyLimit, energyNames, findLimits, findMeters, insertLimit } from "@/lib/store/tariff-queries";
import { type DayKind, dayKinds } from "@/lib/watch/energy-hour";
import { type LimitPassed, limitPassed } from "@/lib/watch/use-limit";
import { dayField, hourField, requireSite } from "./tariff";

/** What a use limit can be about. */
export const limitedThings = ["site", "unit", "circuit", "appliance"] as const;
export type LimitedThing = (typeof limitedThings)[number];

/** What the form sends; `about` is the kind and the id joined, such as `unit:ID`. */
export const limitForm = z
  .object({
    siteId: z.string().max(64),
    formId: z.uuid().optional(),
    about: z.string().max(120),
    kilowattHours: z
      .string()
      .trim()
      .transform((text) => Number(text.replace(",", ".") || Number.NaN))
      .pipe(z.number({ error: "Write kilowatt-hours, such as 12." }).positive("It must be more than 0 kWh.").max(1_000_000)),
    fromHour: hourField,
    toHour: hourField,
    days: z.enum(dayKinds),
    signalWord: z.enum(["NOTICE", "CAUTION"], { error: "Choose NOTICE or CAUTION." }),
    validFrom: dayField,
  })
  .refine(({ fromHour, toHour }) => fromHour !== toHour, {
    error: "From and to are the same hour: write 0 to 24 for the whole day.",
    path: ["toHour"],
  });
export type LimitInput = z.output<typeof limitForm>;

function thingOf(about: string): { readonly thing: LimitedThing; readonly thingId: string } {
  const [thing, thingId] = about.split(":");
  const known = limitedThings.find((one) => one === thing);
  if (!known || !thingId) throw new Trouble("not_valid", "Choose what the limit is about.", { about: "Choose what the limit is about." });
  return { thing: known, thingId };
}

/** Whether the thing is at the site. */
async function requireThing(
  tx: Db,
  siteId: string,
  { thing, thingId }: { readonly thing: LimitedThing; readonly thingId: string },
): Promise<void> {
  const names = await energyNames(tx, siteId, thing === "appliance" ? [thingId] : []);
  const found =
    thing === "site"
      ? thingId === siteId
      : thing === "appliance"
        ? names.appliances.some((one) => one.id === thingId && one.siteId === siteId)
        : names[thing === "unit" ? "units" : "circuits"].some(({ id }) => id === thingId);
  if (!found) throw new Trouble("not_valid", `This ${thing} is not at the site.`, { about: `This ${thing} is not at the site.` });
}

/** Adds a use limit. What is booked already is judged at the next booking of its days. Permission: `set site policy`. */
export async function addLimit(db: Store, actor: Actor, input: LimitInput & { readonly now: Date }): Promise<{ id: string }> {
  requirePermission(actor, "set site policy", input.siteId);
  const { organisationId } = actor;
  const { now, siteId, formId, about, ...limit } = input;
  const at = thingOf(about);
  const id = formId ?? newId();
  await db.$transaction(async (tx) => {
    await requireSite(tx, organisationId, siteId);
    if (await wasMade(tx, "limit", { id: formId, organisationId })) return;
    await requireThing(tx, siteId, at);
    await insertLimit(tx, { id, organisationId, siteId, ...at, ...limit, createdAt: now });
    const entry = { organisationId, at: now, actor: recordName(actor), what: "use limit added", subjectKind: "site", subjectId: siteId };
    await appendRecord(tx, [{ ...entry, after: { id, ...at, ...limit } }]);
  });
  return { id };
}

/** A limit with its thing's name. */
export interface ShownLimit {
  readonly limit: EnergyLimit;
  readonly name: string;
}

/** A site's use limits. Permission: `see readings`. */
export async function siteLimits(db: Db, actor: Actor, siteId: string): Promise<ShownLimit[]> {
  requirePermission(actor, "see readings", siteId);
  const limits = await findLimits(db, { organisationId: actor.organisationId, siteId });
  const ids = limits.flatMap(({ thing, thingId }) => (thing === "appliance" ? [thingId] : []));
  const names = await energyNames(db, siteId, ids);
  const all = new Map<string, string>([
    ...names.units.map(({ id, name }) => [id, `unit ${name}`] as const),
    ...names.circuits.map(({ id, name }) => [id, `circuit ${name}`] as const),
    ...names.appliances.map(({ id, tag }) => [id, `appliance ${tag}`] as const),
  ]);
  return limits.map((limit) => ({ limit, name: limit.thing === "site" ? "the whole site" : (all.get(limit.thingId) ?? "gone") }));
}

const judgedDays = 35;
const dayMs = 86_400_000;

/**
 * Judges the use limits of sites whose hours were booked, and opens or refreshes one finding for each limit that was passed in the
 * last 35 days up to the newest of those hours. Permission is the caller's.
 */
export async function judgeLimits(db: Store, actor: Actor, booked: readonly SiteHour[], now: Date): Promise<number> {
  let opened = 0;
  for (const siteId of new Set(booked.map((hour) => hour.siteId))) {
    const site = await findSite(db, actor.organisationId, siteId);
    const limits = site === null ? [] : await siteLimits(db, { ...actor, siteIds: "all" }, siteId);
    const own = booked.filter((hour) => hour.siteId === siteId).map(({ atMs }) => atMs);
    for (const shown of limits) opened += await judgeLimit(db, { actor, now, site: site!, shown }, own);
  }
  return opened;
}

/** Judges a site's use limits by what is booked already, after one was added. Permission: `set site policy`. */
export async function judgeLimitNow(
  db: Store,
  actor: Actor,
  { siteId, now }: { readonly siteId: string; readonly now: Date },
): Promise<void> {
  requirePermission(actor, "set site policy", siteId);
  const extent = await energyExtent(db, { organisationId: actor.organisationId, siteIds: null, siteId });
  if (extent !== null) await judgeLimits(db, actor, [{ siteId, atMs: extent.toMs }], now);
}

interface LimitWork {
  readonly actor: Actor;
  readonly now: Date;
  readonly site: Site;
  readonly shown: ShownLimit;
}

async function judgeLimit(db: Store, work: LimitWork, booked: readonly number[]): Promise<number> {
  const { actor, site, shown } = work;
  const { limit } = shown;
  const meters = await findMeters(db, { organisationId: actor.organisationId, siteId: site.id });
  const narrow = limit.thing === "site" ? {} : { [`${limit.thing}Id`]: limit.thingId };
  const without = meters.map(({ outletId }) => outletId);
  const scope: EnergyScope = { organisationId: actor.organisationId, siteIds: null, siteId: site.id, ...narrow, without };
  const toMs = booked.reduce((most, atMs) => Math.max(most, atMs), 0) + 2 * dayMs;
  const hours = await sumByHour(db, scope, toMs - judgedDays * dayMs, toMs);
  const passed = limitPassed({ ...limit, days: limit.days as DayKind }, hours, site.timeZone);
  const last = passed.at(-1);
  if (last === undefined) return 0;
  const { outcome } = await db.$transaction((tx) => openOrRefreshFinding(tx, findingOf(work, last, passed.length)));
  return outcome === "opened" || outcome === "opened again" ? 1 : 0;
}

const short = (value: number) => String(Math.round(value * 100) / 100);
const hoursWords = ({ fromHour, toHour, days }: EnergyLimit) =>
  `${fromHour === 0 && toHour === 24 ? "a day" : `from ${fromHour} to ${toHour} h`}${days === "every day" ? "" : `, ${days}`}`;

function findingOf({ actor, now, site, shown }: LimitWork, last: LimitPassed, count: number) {
  const { limit, name } = shown;
  const thing: FindingThing = limit.thing === "appliance" || limit.thing === "circuit" ? limit.thing : "site";
  const gap =
    last.gapMs === 0
      ? []
      : [`${Math.round(last.gapMs / 60_000)} min of receptacle time had no reading, so the true use can only be higher.`];
  return {
    organisationId: actor.organisationId,
    key: `${findingKey("use_limit", thing, limit.thingId)}:${limit.id}`,
    cause: "use_limit" as const,
    siteId: site.id,
    applianceId: limit.thing === "appliance" ? limit.thingId : null,
    circuitId: limit.thing === "circuit" ? limit.thingId : null,
    signalWord: limit.signalWord === "CAUTION" ? ("CAUTION" as const) : ("NOTICE" as const),
    sentence: `Above a use limit: ${short(last.kilowattHours)} kWh on ${last.day} by ${name}, ${short(last.limit)} kWh ${hoursWords(limit)} agreed.`,
    evidence: {
      figures: [
        { name: "Used", value: `${short(last.kilowattHours)} kWh` },
        { name: "Limit", value: `${short(last.limit)} kWh ${hoursWords(limit)}` },
        { name: "Days passed, of the last 35", value: String(count) },
      ],
      reasons: [`Booked by the hour to ${name}, by the site's own clock.`, ...gap],
      fromAt: new Date(last.fromMs).toISOString(),
      toAt: new Date(last.toMs).toISOString(),
    },
    timesSeen: count,
    now,
    actor,
  };
}
