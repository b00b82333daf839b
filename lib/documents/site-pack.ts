import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { endOfDay, type SiteAsOf, siteAsOf } from "@/lib/registry/as-of";
import { breathe } from "@/lib/registry/breathe";
import { dayStart } from "@/lib/registry/energy-view";
import { inspectionPolicyOf } from "@/lib/registry/inspection-policy";
import { getSite } from "@/lib/registry/place-building";
import type { Db } from "@/lib/store/client";
import { headText } from "@/lib/store/record-head";
import { circuitPeaks, entryTime, inspectionsBy, listChecksBy, listLoadsBy } from "@/lib/store/site-pack-queries";
import { applianceSection } from "./site-pack-appliances";
import { circuitSection } from "./site-pack-circuits";
import { closedSection, findingSection } from "./site-pack-findings";
import { inspectionSection } from "./site-pack-inspections";
import { peopleSection } from "./site-pack-people";
import { decisionSection, listSection, recallSection, uncheckableSection } from "./site-pack-recalls";
import { PackNames, type PackSection } from "./site-pack-section";

/** The record's end on the pack's day. */
export interface PackHead {
  /** `NUMBER:HASH`. */
  readonly text: string;
  readonly at: Date;
  /** The same instant by the site's clock. */
  readonly time: string;
}

/** Everything that a site pack prints, in the order in which it prints it. */
export interface SitePack {
  readonly site: string;
  readonly day: string;
  readonly timeZone: string;
  /** The end of the day. */
  readonly at: Date;
  /** Null where nothing was recorded yet. */
  readonly head: PackHead | null;
  readonly sections: readonly PackSection[];
}

export interface PackWish {
  readonly siteId: string;
  /** A day of the site's calendar, `2026-03-31`. */
  readonly day: string;
  readonly now: Date;
}

/**
 * Gathers the pack of a site for a day: what was known when that day ended, or so far where the day is today. The same data gives the
 * same pack, whenever, wherever and from whichever database it is made. Permission: `make site packs` at the site, and those of `siteAsOf`.
 */
export async function readSitePack(db: Db, actor: Actor, wish: PackWish): Promise<SitePack> {
  const site = await getSite(db, actor, wish.siteId);
  requirePermission(actor, "make site packs", site.id);
  const timeZone = site.timeZone ?? "UTC";
  const at = endOfDay(site.timeZone, wish.day, wish.now);
  const from = new Date(dayStart(timeZone, wish.day) ?? at);
  const then = await siteAsOf(db, actor, { siteId: site.id, at });
  const { organisationId } = actor;
  const [loads, checks, peaks, inspections, { firstDays }] = await Promise.all([
    listLoadsBy(db, organisationId, at),
    listChecksBy(db, organisationId, at),
    circuitPeaks(db, { siteId: site.id, from, to: at }),
    inspectionsBy(db, { organisationId, ids: then.appliances.map(({ id }) => id), at }),
    inspectionPolicyOf(db, site),
  ]);
  const names = new PackNames(then);
  const sections = await oneByOne([
    () => findingSection(then, names),
    () => applianceSection(then, names, "out_of_use"),
    () => recallSection(then, names),
    () => inspectionSection(then, names, { inspections, firstDays }),
    () => circuitSection(then, names, peaks),
    () => decisionSection(then, names),
    () => closedSection(then, names),
    () => listSection(then, names, { loads, checks }),
    () => peopleSection(then, names),
    () => applianceSection(then, names, "in_use"),
    () => applianceSection(then, names, "retired"),
    () => uncheckableSection(then),
  ]);
  return { site: site.name, day: wish.day, timeZone, at, head: await headOf(db, organisationId, then, names), sections };
}

async function oneByOne(sections: readonly (() => PackSection)[]): Promise<PackSection[]> {
  const made: PackSection[] = [];
  for (const make of sections) {
    await breathe();
    made.push(make());
  }
  return made;
}

async function headOf(db: Db, organisationId: string, { head }: SiteAsOf, names: PackNames): Promise<PackHead | null> {
  if (head === null) return null;
  const at = await entryTime(db, organisationId, head.number);
  return { text: headText(head), at, time: names.time(at) ?? "" };
}

/** How many rows a pack has. */
export function rowsOf({ sections }: SitePack): number {
  return sections.reduce((sum, { rows }) => sum + rows.length, 0);
}

/** A name for a pack's file that every system takes: the site in plain letters, and the day. */
export function packFileName(site: string, day: string, ending: "pdf" | "zip"): string {
  const plain = site
    .replaceAll("ß", "ss")
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  return `site-pack-${plain.slice(0, 60) || "site"}-${day}.${ending}`;
}
