import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db } from "@/lib/store/client";
import {
  countEnergyDue,
  type EnergyScope,
  energyExtent,
  receptacleSpans,
  type ScopeHour,
  splitEnergy,
  sumByHour,
} from "@/lib/store/energy-queries";
import { findSites } from "@/lib/store/place-queries";
import type { Site } from "@/lib/store/rows";
import { energyNames, findMeters, findTariffs } from "@/lib/store/tariff-queries";
import { comparePeriods, dailySample, type PeriodComparison } from "@/lib/watch/baseline";
import { hourMs, localDay } from "@/lib/watch/energy-hour";
import { kilowattHours } from "@/lib/watch/energy-sum";
import { costOf, type EnergyCost } from "@/lib/watch/tariff";
import { endOfLocalDay, instantsOf } from "@/lib/watch/zone-time";
import { addressChoice, addressText } from "./address-fields";
import { type ComparedDays, comparedDays, confidence } from "./energy-compare";
import { type MeterLine, meterLines } from "./energy-meter";
import { type NamedEnergy, namedSplit, splitColumns, splitNames } from "./energy-split";
import { tariffOf } from "./tariff";

/** The page's state in its address. What cannot be read is left out. */
export const energyQuery = z.object({
  site: addressText,
  unit: addressText,
  circuit: addressText,
  outlet: addressText,
  appliance: addressText,
  from: addressText,
  to: addressText,
  step: addressChoice(["hour", "day"]),
  split: addressChoice(splitNames),
  baseFrom: addressText,
  baseTo: addressText,
});
export type EnergyQuery = z.output<typeof energyQuery>;

/** One bar of the chart. Kilowatt-hours. */
export interface EnergyBar {
  readonly fromMs: number;
  readonly toMs: number;
  readonly kilowattHours: number;
  /** The part that no known appliance used. */
  readonly unknown: number;
  readonly gapMs: number;
}

export interface EnergyPeriod {
  readonly fromDay: string;
  readonly toDay: string;
  readonly fromMs: number;
  readonly toMs: number;
}

/** The shown days against a baseline. */
export interface EnergyComparison {
  readonly baseline: ComparedDays;
  readonly later: ComparedDays;
  /** Null where too few days can be compared. */
  readonly result: PeriodComparison | null;
  /** Nobody chose the baseline: it is the weeks before the days shown. */
  readonly isUsual: boolean;
}

export interface EnergyView {
  readonly site: Site;
  readonly sites: readonly Site[];
  readonly names: Awaited<ReturnType<typeof energyNames>>;
  /** What is shown, in words: `unit 0101`. */
  readonly subject: string;
  readonly zone: string;
  readonly period: EnergyPeriod;
  readonly step: "hour" | "day";
  readonly bars: readonly EnergyBar[];
  readonly microjoules: bigint;
  readonly unknown: bigint;
  readonly measuredMs: number;
  readonly gapMs: number;
  readonly receptacles: number;
  readonly split: (typeof splitNames)[number];
  readonly parts: readonly NamedEnergy[];
  readonly cost: EnergyCost;
  readonly hasTariff: boolean;
  readonly meters: readonly MeterLine[];
  readonly comparison: EnergyComparison;
  /** Hours whose booking is due: the sums are not final. */
  readonly due: number;
}

const dayMs = 86_400_000;
const mostDays = 400;
/** A baseline that nobody chose: whole weeks, so that each weekday counts as often. Own choice. */
const usualDays = 28;

/** The start of a day of a zone's calendar, ms; null for what is no day. Where the clock is put forward at midnight it begins at one. */
export function dayStart(zone: string, day: string | undefined): number | null {
  if (day === undefined || !/^\d{4}-\d{2}-\d{2}$/.test(day)) return null;
  const wall = Date.parse(`${day}T00:00:00Z`);
  // The engine takes 31 February for 3 March.
  if (Number.isNaN(wall) || new Date(wall).toISOString().slice(0, 10) !== day) return null;
  return instantsOf(zone, wall)[0] ?? instantsOf(zone, wall + hourMs)[0] ?? wall;
}

function periodOf(zone: string, asked: Pick<EnergyQuery, "from" | "to">, extent: { fromMs: number; toMs: number }): EnergyPeriod {
  const lastDay = dayStart(zone, asked.to) ?? dayStart(zone, localDay(zone, extent.toMs)) ?? extent.toMs;
  const toMs = endOfLocalDay(zone, lastDay);
  const usual = Math.max(extent.fromMs, toMs - 7 * dayMs + hourMs);
  const from = dayStart(zone, asked.from) ?? dayStart(zone, localDay(zone, usual)) ?? usual;
  const fromMs = Math.max(Math.min(from, lastDay), toMs - mostDays * dayMs);
  return { fromDay: localDay(zone, fromMs), toDay: localDay(zone, toMs - 1), fromMs, toMs };
}

async function chosenSite(db: Db, actor: Actor, id: string | undefined): Promise<{ site: Site; sites: Site[] } | null> {
  const { organisationId, siteIds } = actor;
  const sites = await findSites(db, siteIds === "all" ? { organisationId } : { organisationId, id: { in: [...siteIds] } });
  if (id !== undefined && !sites.some((site) => site.id === id))
    throw new Trouble("not_found", "There is no such site here: choose it again.");
  const site = sites.find((one) => one.id === id) ?? (await firstWithEnergy(db, organisationId, sites));
  return site === undefined ? null : { site, sites };
}

/** Without a choice the page opens where there is something to see. */
async function firstWithEnergy(db: Db, organisationId: string, sites: readonly Site[]): Promise<Site | undefined> {
  for (const site of sites) if ((await energyExtent(db, { organisationId, siteIds: null, siteId: site.id })) !== null) return site;
  return sites[0];
}

/** What a query narrows a site's energy to. */
export function scopeOf(actor: Actor, siteId: string, query: EnergyQuery, without: readonly string[]): EnergyScope {
  const { unit, circuit, outlet, appliance } = query;
  const narrow = { siteId, unitId: unit, circuitId: circuit, outletId: outlet, applianceId: appliance };
  return { organisationId: actor.organisationId, siteIds: actor.siteIds === "all" ? null : actor.siteIds, ...narrow, without };
}

function barsOf(hours: readonly ScopeHour[], step: "hour" | "day", zone: string): EnergyBar[] {
  const bars = new Map<number, { toMs: number; microjoules: bigint; unknown: bigint; gapMs: number }>();
  for (const hour of hours) {
    const fromMs = step === "hour" ? hour.atMs : (dayStart(zone, localDay(zone, hour.atMs)) ?? hour.atMs);
    const toMs = step === "hour" ? hour.atMs + hourMs : endOfLocalDay(zone, hour.atMs);
    const bar = bars.get(fromMs) ?? { toMs, microjoules: 0n, unknown: 0n, gapMs: 0 };
    bar.microjoules += hour.microjoules;
    bar.unknown += hour.unknown;
    bar.gapMs += hour.gapMs;
    bars.set(fromMs, bar);
  }
  return [...bars].map(([fromMs, { toMs, microjoules, unknown, gapMs }]) => ({
    fromMs,
    toMs,
    kilowattHours: kilowattHours(microjoules),
    unknown: kilowattHours(unknown),
    gapMs,
  }));
}

function subjectOf(query: EnergyQuery, names: EnergyView["names"]): string {
  const named = (list: readonly { id: string; name: string }[], id: string) => list.find((one) => one.id === id)?.name ?? "not known";
  if (query.appliance !== undefined) return `appliance ${names.appliances.find(({ id }) => id === query.appliance)?.tag ?? "not known"}`;
  if (query.outlet !== undefined) return `outlet ${named(names.outlets, query.outlet)}`;
  if (query.circuit !== undefined) return `circuit ${named(names.circuits, query.circuit)}`;
  return query.unit === undefined ? "the whole site" : `unit ${named(names.units, query.unit)}`;
}

/**
 * Energy of a site, or of a unit, circuit, outlet or appliance of it, over whole days of its calendar: by hour or day, split, priced,
 * compared with a baseline. Null where the actor has no site. Permission: `see readings`.
 */
export async function energyView(db: Db, actor: Actor, query: EnergyQuery): Promise<EnergyView | null> {
  requirePermission(actor, "see readings");
  const chosen = await chosenSite(db, actor, query.site);
  if (chosen === null) return null;
  const { site, sites } = chosen;
  const zone = site.timeZone ?? "UTC";
  const home = { organisationId: actor.organisationId, siteId: site.id };
  const meters = await findMeters(db, home);
  const scope = scopeOf(
    actor,
    site.id,
    query,
    meters.map(({ outletId }) => outletId),
  );
  const extent = (await energyExtent(db, scope)) ?? { fromMs: 0, toMs: 0 };
  const period = periodOf(zone, query, extent);
  const { fromMs, toMs } = period;
  const split = query.split ?? (query.unit || query.circuit || query.outlet ? "appliance" : "unit");
  const [hours, spans, rows, tariffRows, due] = await Promise.all([
    sumByHour(db, scope, fromMs, toMs),
    receptacleSpans(db, scope, fromMs, toMs),
    splitEnergy(db, scope, { fromMs, toMs }, splitColumns[split]),
    findTariffs(db, home),
    countEnergyDue(db, actor.organisationId),
  ]);
  const applianceIds = [
    ...(split === "appliance" ? rows.flatMap(({ id }) => id || []) : []),
    ...(query.appliance ? [query.appliance] : []),
  ];
  const names = await energyNames(db, site.id, applianceIds);
  const step = query.step ?? (toMs - fromMs <= 3 * dayMs ? "hour" : "day");
  const tariffs = tariffRows.map(tariffOf);
  const sum = (name: "measuredMs" | "gapMs") => hours.reduce((total, hour) => total + hour[name], 0);
  return {
    site,
    sites,
    names,
    subject: subjectOf(query, names),
    zone,
    period,
    step,
    bars: barsOf(hours, step, zone),
    microjoules: hours.reduce((total, hour) => total + hour.microjoules, 0n),
    unknown: hours.reduce((total, hour) => total + hour.unknown, 0n),
    measuredMs: sum("measuredMs"),
    gapMs: sum("gapMs") + spans.missingHours * hourMs,
    receptacles: spans.receptacles,
    split,
    parts: namedSplit(rows, split, names),
    cost: costOf(hours, tariffs, zone),
    hasTariff: tariffs.length > 0,
    meters: await meterLines(db, scope, meters, period),
    comparison: await compared(db, scope, { query, zone, later: period }),
    due,
  };
}

/** Against the baseline asked for, or the weeks before the days shown. */
async function compared(
  db: Db,
  scope: EnergyScope,
  { query, zone, later }: { readonly query: EnergyQuery; readonly zone: string; readonly later: EnergyPeriod },
): Promise<EnergyComparison> {
  const [from, to] = [dayStart(zone, query.baseFrom), dayStart(zone, query.baseTo)];
  const isUsual = from === null || to === null || to < from;
  const usual = { fromMs: dayStart(zone, localDay(zone, later.fromMs - usualDays * dayMs)) ?? later.fromMs, toMs: later.fromMs };
  const stretch = isUsual ? usual : { fromMs: from, toMs: endOfLocalDay(zone, to) };
  const [baseline, after] = await Promise.all([comparedDays(db, scope, { ...stretch, zone }), comparedDays(db, scope, { ...later, zone })]);
  const result = comparePeriods(dailySample(baseline.values), dailySample(after.values), confidence);
  return { baseline, later: after, result, isUsual };
}
