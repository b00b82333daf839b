import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import {
  applianceCountsByUnit,
  appliancesOfUnit,
  type PlacedFinding,
  placedFindings,
  type SiteCounts,
  siteCounts,
  siteLoads,
} from "@/lib/store/building-queries";
import type { Db } from "@/lib/store/client";
import { findSite, findSites, getSitePlan } from "@/lib/store/place-queries";
import type { Circuit, Outlet, Site, Unit } from "@/lib/store/rows";
import { type Floor, stackFloors } from "./place-floors";

const words = ["DANGER", "WARNING", "CAUTION", "NOTICE"] as const;
export type OpenWord = (typeof words)[number];
/** Open findings by signal word. */
export type OpenWords = Readonly<Record<OpenWord, number>>;

export function countWords(findings: readonly Pick<PlacedFinding, "signalWord">[]): OpenWords {
  const count = (word: OpenWord) => findings.filter((finding) => finding.signalWord === word).length;
  return { DANGER: count("DANGER"), WARNING: count("WARNING"), CAUTION: count("CAUTION"), NOTICE: count("NOTICE") };
}

function worstWord(findings: readonly PlacedFinding[]): OpenWord | null {
  return words.find((word) => findings.some((finding) => finding.signalWord === word)) ?? null;
}

export interface SiteLine {
  readonly site: Site;
  readonly counts: SiteCounts;
  readonly open: OpenWords;
}

/** The sites in reach with what is in them and what is open there. */
export async function listSites(db: Db, actor: Actor): Promise<SiteLine[]> {
  requirePermission(actor, "see places");
  const { organisationId, siteIds } = actor;
  const sites = await findSites(db, siteIds === "all" ? { organisationId } : { organisationId, id: { in: [...siteIds] } });
  const [counts, findings] = await Promise.all([
    siteCounts(db, organisationId),
    placedFindings(
      db,
      organisationId,
      sites.map(({ id }) => id),
    ),
  ]);
  const none = { units: 0, circuits: 0, outlets: 0, appliances: 0 };
  return sites.map((site) => ({
    site,
    counts: counts.get(site.id) ?? none,
    open: countWords(findings.filter(({ siteId }) => siteId === site.id)),
  }));
}

/** A circuit with its load against its device. */
export interface LoadedCircuit {
  readonly circuit: Circuit;
  /** Amps, the largest of the last hour of readings; null without readings. */
  readonly amps: number | null;
  /** Load over device; null where either is not known. */
  readonly share: number | null;
}

export interface UnitCell extends Unit {
  readonly circuits: readonly LoadedCircuit[];
  readonly word: OpenWord | null;
  /** The sentence of its worst open finding. */
  readonly sentence: string | null;
  readonly appliances: number;
}

export interface SiteView {
  readonly site: Site;
  readonly floors: readonly Floor<UnitCell>[];
  readonly circuits: readonly LoadedCircuit[];
  readonly outlets: readonly Outlet[];
  readonly findings: readonly (PlacedFinding & { readonly unit: string | null })[];
  readonly open: OpenWords;
  readonly upTo: Date | null;
}

/** A site of the organisation that the actor may see. */
export async function getSite(db: Db, actor: Actor, id: string): Promise<Site> {
  const site = await findSite(db, actor.organisationId, id);
  if (!site) throw new Trouble("not_found", "This site is not there: choose it again under Building.");
  requirePermission(actor, "see places", site.id);
  return site;
}

function cellOf(unit: Unit, circuits: readonly LoadedCircuit[], findings: readonly PlacedFinding[], appliances: number): UnitCell {
  const own = findings.filter(({ unitId }) => unitId === unit.id);
  const word = worstWord(own);
  const sentence = own.find(({ signalWord }) => signalWord === word)?.sentence ?? null;
  return { ...unit, circuits, word, sentence, appliances };
}

/** One site as an elevation: floors, units with their circuits' load, and what is open, the oldest first. */
export async function viewSite(db: Db, actor: Actor, id: string): Promise<SiteView> {
  const site = await getSite(db, actor, id);
  const [plan, loads, findings, counts] = await Promise.all([
    getSitePlan(db, id),
    siteLoads(db, id),
    placedFindings(db, actor.organisationId, [id]),
    applianceCountsByUnit(db, id),
  ]);
  const circuits = plan.circuits.map((circuit) => {
    const amps = loads.amps.get(circuit.id) ?? null;
    return { circuit, amps, share: amps === null || !circuit.deviceAmps ? null : amps / circuit.deviceAmps };
  });
  const cells = plan.units.map((unit) =>
    cellOf(
      unit,
      circuits.filter(({ circuit }) => circuit.unitId === unit.id),
      findings,
      counts.get(unit.id) ?? 0,
    ),
  );
  const names = new Map(plan.units.map((unit) => [unit.id, unit.name]));
  return {
    site,
    floors: stackFloors(cells),
    circuits,
    outlets: plan.outlets,
    findings: findings.map((finding) => ({ ...finding, unit: names.get(finding.unitId ?? "") ?? null })),
    open: countWords(findings),
    upTo: loads.upTo,
  };
}

/** The appliances of a unit of the site. */
export function unitAppliances(db: Db, actor: Actor, unit: Pick<Unit, "id" | "siteId">) {
  requirePermission(actor, "see appliances", unit.siteId);
  return appliancesOfUnit(db, actor.organisationId, unit.id);
}
