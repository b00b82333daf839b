import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requireSeen, type SeenValues } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type Appliance, changeAppliance } from "@/lib/store/appliance-queries";
import { baselineEntry, hasDraws, latestBaselineEntry } from "@/lib/store/baseline-queries";
import type { Db, Store } from "@/lib/store/client";
import { findSite } from "@/lib/store/place-queries";
import { appendRecord } from "@/lib/store/record";
import { findStream } from "@/lib/store/stream-queries";
import { baselineDaysWords, baselineStretch } from "@/lib/watch/documented-baseline";
import { wallClock } from "@/lib/watch/zone-time";
import { getAppliance } from "./appliance";
import { requireNotHeld } from "./hold";
import { optionalText } from "./place-form";

const mostDays = 366;
const dayMs = 86_400_000;

/** What the form sends. `use` tells which button was pressed; the days are read only where they are to be documented. */
export const baselineForm = z.object({
  id: z.string().max(64),
  from: optionalText(10),
  to: optionalText(10),
  reason: optionalText(500),
  use: z.enum(["days", "first"]),
  seen: z.string().max(64).optional(),
});
export type BaselineInput = z.output<typeof baselineForm>;

/** What the form was filled from, by its fields. */
export function baselineSeen({ baselineFrom, baselineTo }: Pick<Appliance, "baselineFrom" | "baselineTo">): SeenValues {
  return { from: baselineFrom, to: baselineTo };
}

function isDay(text: string): boolean {
  const atMs = /^(19[7-9]|[2-9]\d\d)\d-\d\d-\d\d$/.test(text) ? Date.parse(text) : Number.NaN;
  return !Number.isNaN(atMs) && new Date(atMs).toISOString().slice(0, 10) === text;
}

const dayWanted = "Write the day as YYYY-MM-DD, such as 2026-03-14.";

/** What is wrong with the days of a period, by field; `today` is the day now by the site's clock. */
export function baselineProblems({ from, to }: Pick<BaselineInput, "from" | "to">, today: string): Record<string, string> {
  if (from === null || !isDay(from)) return { from: dayWanted };
  if (to === null || !isDay(to)) return { to: dayWanted };
  if (to < from) return { to: "The last day comes before the first: swap them." };
  if (to > today) return { to: `The last day is in the future: choose days up to ${today}.` };
  const days = (Date.parse(to) - Date.parse(from)) / dayMs + 1;
  return days > mostDays ? { to: `That is ${days} days: document ${mostDays} at most.` } : {};
}

function requireFilled(given: BaselineInput, today: string): void {
  const why = given.reason === null ? { reason: "Write why: it goes into the record." } : {};
  const fields = { ...(given.use === "days" ? baselineProblems(given, today) : {}), ...why };
  const first = Object.values(fields)[0];
  if (first !== undefined) throw new Trouble("not_valid", first, fields);
}

/** Days whose readings are no longer kept one by one give no median. */
async function requireKept(db: Db, siteId: string, days: Parameters<typeof baselineStretch>[0]): Promise<void> {
  const rawFrom = (await findStream(db, siteId))?.rawFrom ?? null;
  if (rawFrom === null || baselineStretch(days).toMs > rawFrom.getTime()) return;
  const kept = new Date(wallClock(days.timeZone ?? "UTC", rawFrom.getTime())).toISOString().slice(0, 10);
  const sentence = `Readings of this site are kept one by one from ${kept} on: choose days from then on.`;
  throw new Trouble("not_valid", sentence, { to: sentence });
}

/**
 * Documents the days whose median is an appliance's usual running draw, or goes back to its first days. Its site's kept readings are
 * judged anew by that. Permission: `edit appliances` at its site. Throws `Trouble` for days that do not do, without a reason, while a
 * hold keeps the appliance as it is, and `ChangedMeanwhile` where the form was filled from another period.
 */
export async function documentBaseline(db: Store, actor: Actor, given: BaselineInput & { readonly now: Date }): Promise<void> {
  const { id, use, reason, now } = given;
  await db.$transaction(async (tx) => {
    const appliance = await getAppliance(tx, actor, id);
    requirePermission(actor, "edit appliances", appliance.siteId);
    await requireNotHeld(tx, appliance);
    const timeZone = (await findSite(tx, actor.organisationId, appliance.siteId))?.timeZone ?? null;
    requireFilled(given, new Date(wallClock(timeZone ?? "UTC", now.getTime())).toISOString().slice(0, 10));
    const { from, to } = use === "days" ? given : { from: null, to: null };
    if (from !== null && to !== null) await requireKept(tx, appliance.siteId, { from, to, timeZone });
    requireSeen(given.seen, baselineSeen(appliance), { what: "the baseline of this appliance" });
    const before = { baselineFrom: appliance.baselineFrom, baselineTo: appliance.baselineTo };
    if (before.baselineFrom === from && before.baselineTo === to) {
      throw new Trouble("not_valid", from === null ? "Its first days count already." : "These days are in force already.");
    }
    const after = { baselineFrom: from, baselineTo: to };
    if (!(await changeAppliance(tx, id, appliance.version, { ...after, updatedAt: now }))) {
      throw new Trouble("changed_meanwhile", "Somebody else is saving this appliance right now: send it again.");
    }
    const entry = { organisationId: actor.organisationId, at: now, actor: recordName(actor), subjectKind: "appliance", subjectId: id };
    const what = from === null ? baselineEntry.cleared : baselineEntry.documented;
    await appendRecord(tx, [{ ...entry, what, before, after: { ...after, reason } }]);
  });
}

/** The baseline of an appliance as its page shows it. */
export interface BaselineView {
  /** The documented days in words; null where its first days count. */
  readonly days: string | null;
  /** False where nothing was measured on the documented days, so that it is not judged for drift. */
  readonly isMeasured: boolean;
  /** Who said so last, when and why; null where nobody ever did. */
  readonly said: { readonly who: string; readonly at: Date; readonly reason: string } | null;
}

/** Reads it; give an appliance that the actor may see. */
export async function viewBaseline(db: Db, appliance: Appliance, timeZone: string | null): Promise<BaselineView> {
  const { organisationId, id: applianceId, baselineFrom: from, baselineTo: to } = appliance;
  const entry = await latestBaselineEntry(db, { organisationId, applianceId });
  const reason = (entry?.after as { reason?: unknown } | null)?.reason;
  const said = entry && { who: entry.who, at: entry.at, reason: typeof reason === "string" ? reason : "" };
  if (from === null || to === null) return { days: null, isMeasured: true, said };
  const { fromMs, toMs } = baselineStretch({ from, to, timeZone });
  const isMeasured = await hasDraws(db, { organisationId, applianceId, from: new Date(fromMs), to: new Date(toMs) });
  return { days: baselineDaysWords({ from, to }), isMeasured, said };
}
