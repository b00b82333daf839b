import type { Actor } from "@/lib/access/actor";
import { endOfDay, type SiteAsOf, siteAsOf } from "@/lib/registry/as-of";
import { getSite } from "@/lib/registry/place-building";
import type { Db } from "@/lib/store/client";
import { headText } from "@/lib/store/record-head";
import { circuitPeaks, inspectionsBy, type ListCheckRow, type ListLoadRow, listChecksBy, listLoadsBy } from "@/lib/store/site-pack-queries";
import {
  applianceSections,
  column,
  decisionSections,
  findingSection,
  type PackSection,
  peopleSection,
  placeWords,
  recallSection,
  siteClock,
} from "./site-pack-sections";

/** Everything that a site pack prints, in the order in which it prints it. */
export interface SitePack {
  readonly site: string;
  readonly day: string;
  readonly timeZone: string;
  /** The end of the day. */
  readonly at: Date;
  /** The record's end on that day, `NUMBER:HASH`; null where nothing was recorded yet. */
  readonly head: string | null;
  readonly sections: readonly PackSection[];
}

export interface PackWish {
  readonly siteId: string;
  /** A day of the site's calendar, `2026-03-31`. */
  readonly day: string;
  readonly now: Date;
}

const dayMs = 86_400_000;

async function loadSection(db: Db, then: SiteAsOf): Promise<PackSection> {
  const peaks = await circuitPeaks(db, { siteId: then.site.id, from: new Date(then.at.getTime() - dayMs + 1), to: then.at });
  const byId = new Map(peaks.map((peak) => [peak.circuitId, peak]));
  const units = new Map(then.names.units.map(({ id, name }) => [id, name]));
  const circuits = [...then.names.circuits].sort((a, b) => (`${a.name} ${a.id}` < `${b.name} ${b.id}` ? -1 : 1));
  return {
    key: "circuit_loads",
    head: "Load of circuits",
    note: "The largest load of the 24 hours before the day ended, of the readings that are kept: the mean of a minute, or of an hour where minutes are no longer kept. No readings are not no load.",
    empty: "No circuit is laid out.",
    columns: [
      ...[column("circuit", "Circuit", 20), column("unit", "Unit", 16), column("device_amps", "Device A", 12, "figure")],
      ...[column("seen_amps", "Seen A", 12, "figure"), column("share", "Seen of device", 14, "figure"), column("kept_by", "Kept by", 14)],
    ],
    rows: circuits.map(({ id, name, unitId, deviceAmps }) => {
      const peak = byId.get(id);
      const share = peak && deviceAmps ? `${Math.round((peak.amps / deviceAmps) * 100)} %` : null;
      const device = deviceAmps === null ? null : String(deviceAmps);
      return [name, units.get(unitId ?? "") ?? null, device, peak ? peak.amps.toFixed(1) : null, share, peak?.keptBy ?? "no readings"];
    }),
  };
}

/** Lists of notices and when each was last loaded and looked at. */
export function listSection(then: SiteAsOf, loads: readonly ListLoadRow[], checks: readonly ListCheckRow[]): PackSection {
  const { time } = siteClock(then.site.timeZone);
  const latestLoads = [...new Map([...loads].reverse().map((load) => [`${load.source} ${load.format}`, load])).values()];
  const latestChecks = [...new Map([...checks].reverse().map((check) => [check.sourceId, check])).values()];
  const version = (hash: string | null) => (hash === null ? null : hash.slice(0, 12));
  const loaded = latestLoads.map((row) => [
    row.source,
    "loaded",
    time(row.loadedAt),
    String(row.records),
    version(row.fileHash),
    row.fileName,
  ]);
  const looked = latestChecks.map((row) => [
    ...[row.source.name, `fetched: ${row.outcome}`, time(row.at), row.notices === null ? null : String(row.notices), version(row.fileHash)],
    row.message,
  ]);
  const notYet = [...then.notices.values()].filter(({ checkedAt }) => checkedAt === null).length;
  return {
    key: "recall_lists",
    head: "Recall lists",
    note: `${then.notices.size} notices were known; ${notYet} of them have not been compared with the registry yet.`,
    empty: "No recall list was loaded: nothing here says that an appliance is not recalled.",
    columns: [
      ...[column("list", "List", 28, "theirs"), column("event", "Last", 16), column("at", "When", 16, "figure")],
      ...[
        column("notices", "Notices", 10, "figure"),
        column("version", "Version (SHA-256)", 16, "code"),
        column("file", "File or answer", 26),
      ],
    ],
    rows: [...loaded, ...looked].sort((a, b) => (`${a[0]} ${a[1]}` < `${b[0]} ${b[1]}` ? -1 : 1)),
  };
}

async function inspectionSection(db: Db, actor: Actor, then: SiteAsOf): Promise<PackSection> {
  const { day } = siteClock(then.site.timeZone);
  const inUse = then.appliances.filter(({ state }) => state !== "retired");
  const rows = await inspectionsBy(db, actor, { ids: inUse.map(({ id }) => id), at: then.at });
  const latest = new Map([...rows].reverse().map((row) => [row.applianceId, row]));
  const never = inUse.filter(({ id }) => !latest.has(id)).length;
  const overdue = inUse.filter(({ id }) => {
    const due = latest.get(id)?.nextDueAt;
    return due !== null && due !== undefined && due <= then.at;
  });
  return {
    key: "overdue_inspections",
    head: "Inspections overdue",
    note: `${never} of ${inUse.length} appliances that are not retired were never inspected.`,
    empty: "No inspection that was made asks for the next one by this day.",
    columns: [
      ...[column("tag", "Tag", 14, "code"), column("brand", "Maker", 15, "plate"), column("model", "Model", 15, "plate")],
      ...[
        column("place", "Where", 30),
        column("last", "Last", 12, "figure"),
        column("result", "Result", 12),
        column("due", "Due", 12, "figure"),
      ],
    ],
    rows: overdue.map((row) => {
      const last = latest.get(row.id);
      return [
        row.tag,
        row.brand,
        row.model,
        placeWords(then, row),
        day(last?.at ?? null),
        last?.result ?? null,
        day(last?.nextDueAt ?? null),
      ];
    }),
  };
}

/**
 * Gathers the pack of a site for a day: what was known when that day ended. The same data gives the same pack, whenever and wherever it
 * is made. Permission: those of `siteAsOf`.
 */
export async function readSitePack(db: Db, actor: Actor, wish: PackWish): Promise<SitePack> {
  const site = await getSite(db, actor, wish.siteId);
  const at = endOfDay(site.timeZone, wish.day, wish.now);
  const then = await siteAsOf(db, actor, { siteId: site.id, at });
  const [loads, checks, circuits, inspections] = await Promise.all([
    listLoadsBy(db, actor.organisationId, at),
    listChecksBy(db, actor.organisationId, at),
    loadSection(db, then),
    inspectionSection(db, actor, then),
  ]);
  const [outOfUse, ...others] = applianceSections(then);
  const sections = [
    ...[findingSection(then), ...(outOfUse ? [outOfUse] : []), recallSection(then), listSection(then, loads, checks)],
    ...[inspections, circuits, ...decisionSections(then), peopleSection(then), ...others],
  ];
  const head = then.head === null ? null : headText(then.head);
  return { site: site.name, day: wish.day, timeZone: site.timeZone ?? "UTC", at, head, sections };
}
