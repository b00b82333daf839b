import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { loadKindOf } from "@/lib/electrical/load-kind";
import { type PlugSystemName, plugSystems, receptacleLimit } from "@/lib/electrical/plug-systems";
import { sourceWords } from "@/lib/electrical/rule-source";
import type { Db } from "@/lib/store/client";
import { findCircuit, findSite } from "@/lib/store/place-queries";
import { circuitsOf, countUnplaced, reconnectionGround } from "@/lib/store/reconnection-queries";
import type { Circuit, Site } from "@/lib/store/rows";
import { deviceChoices } from "@/lib/watch/policy-standards";
import { planReconnection, type ReconnectionCircuit, type ReconnectionPlan } from "@/lib/watch/reconnection";
import { keepsCold } from "@/lib/watch/reconnection-inrush";
import type { ReconnectionLoad } from "@/lib/watch/reconnection-load";
import { type LegSum, sumLegs } from "@/lib/watch/reconnection-service";
import { policyOfSite, standardsOfSite } from "./site-policy";

/** The plan of one circuit. */
export interface CircuitPlan {
  readonly circuit: Circuit;
  readonly volts: number;
  readonly deviceWords: string;
  readonly checked: ReconnectionCircuit;
  readonly plan: ReconnectionPlan;
  /** Loads above what one receptacle may feed by the site's plug system, one sentence each. */
  readonly receptacleNotes: readonly string[];
}

export interface ReconnectionView {
  readonly site: Site;
  readonly plans: readonly CircuitPlan[];
  /** All circuits of the site, for choosing. */
  readonly circuits: readonly Circuit[];
  /** Appliances of the circuits' units whose outlet is not known: they are in no plan. */
  readonly unplaced: number;
  readonly seed: number;
  /** What the circuits shown draw together, leg by leg. */
  readonly legs: readonly LegSum[];
  readonly continuousShare: number;
}

const peakDays = 90;
const dayMs = 86_400_000;

type Ground = Awaited<ReturnType<typeof reconnectionGround>>;
type GroundAppliance = Ground["appliances"][number];

/** Why an appliance is not connected again: it is out of use, or an open danger concerns it. */
function barredBy(appliance: GroundAppliance, findings: Ground["findings"]): string | null {
  const danger = findings.find((finding) => finding.applianceId === appliance.id && finding.signalWord === "DANGER");
  if (danger) return `Open DANGER: ${danger.sentence}`;
  return appliance.state === "out_of_use" ? "It is out of use." : null;
}

function loadOf(appliance: GroundAppliance, ground: Ground, place: { readonly outlet: string; readonly volts: number }): ReconnectionLoad {
  const { volts } = place;
  const known = [
    appliance.inputAmps,
    appliance.seenAmps,
    ...[appliance.inputWatts, appliance.seenWatts].map((watts) => (watts === null ? null : watts / volts)),
  ].filter((amps) => amps !== null);
  const peak = ground.peaks.get(appliance.id) ?? null;
  return {
    id: appliance.id,
    tag: appliance.tag,
    outlet: place.outlet,
    receptacle: appliance.receptacle,
    kind: loadKindOf(appliance.category),
    keepsCold: keepsCold(appliance.category),
    runningAmps: known.length === 0 ? null : Math.max(...known),
    seenPeakAmps: peak === null ? null : peak / volts,
    barred: barredBy(appliance, ground.findings),
  };
}

/** The site of an asked circuit or site, inside the organisation. */
async function siteAsked(
  db: Db,
  actor: Actor,
  ask: { readonly circuitId?: string | undefined; readonly siteId?: string | undefined },
): Promise<Site> {
  const circuit = ask.circuitId === undefined ? null : await findCircuit(db, actor.organisationId, ask.circuitId);
  const siteId = circuit?.siteId ?? (ask.circuitId === undefined ? ask.siteId : undefined);
  const site = siteId === undefined ? null : await findSite(db, actor.organisationId, siteId);
  if (!site) throw new Trouble("not_found", "There is no such circuit or site here: choose it again under Building.");
  return site;
}

/**
 * The staggered reconnection plan of one circuit, or of every circuit of a site. The same seed gives the same waits. Permission:
 * `see readings` at the site.
 */
export async function reconnectionView(
  db: Db,
  actor: Actor,
  ask: { readonly circuitId?: string | undefined; readonly siteId?: string | undefined; readonly seed: number; readonly now: Date },
): Promise<ReconnectionView> {
  requirePermission(actor, "see readings");
  const site = await siteAsked(db, actor, ask);
  requirePermission(actor, "see readings", site.id);
  const circuits = await circuitsOf(db, site.id, null);
  const chosen = ask.circuitId === undefined ? circuits : circuits.filter(({ id }) => id === ask.circuitId);
  const ids = chosen.map(({ id }) => id);
  const ground = await reconnectionGround(db, ids, new Date(ask.now.getTime() - peakDays * dayMs));
  const [policy, standards] = await Promise.all([policyOfSite(db, site.id), standardsOfSite(db, site)]);
  const device = deviceChoices[standards.device];
  const plans = chosen.map((circuit, i): CircuitPlan => {
    const volts = circuit.volts ?? site.nominalVolts ?? 120;
    const { standard, band } = device;
    const seed = ask.seed + i;
    const checked = { deviceAmps: circuit.deviceAmps, standard, band, continuousShare: policy.continuousShare, seed };
    const loads = loadsOf(circuit, ground, volts);
    const receptacleNotes = notesOf(loads, { plugs: standards.plugs, circuit, ground });
    return { circuit, volts, deviceWords: device.words, checked, plan: planReconnection(checked, loads), receptacleNotes };
  });
  const units = [...new Set(ground.outlets.flatMap(({ unitId }) => unitId ?? []))];
  const { continuousShare } = policy;
  return { site, plans, circuits, unplaced: await countUnplaced(db, units), seed: ask.seed, legs: legsOf(plans), continuousShare };
}

/** From this voltage on a circuit of a split-phase service lies across both legs: 208 V and 240 V (ANSI C84.1). */
const acrossFromVolts = 200;

function legsOf(plans: readonly CircuitPlan[]): LegSum[] {
  const split = plans.some(({ circuit }) => circuit.leg !== null);
  return sumLegs(plans.map(({ circuit, volts, plan }) => ({ leg: circuit.leg, isAcross: split && volts >= acrossFromVolts, plan })));
}

function loadsOf(circuit: Circuit, ground: Ground, volts: number): ReconnectionLoad[] {
  const names = new Map(ground.outlets.filter(({ circuitId }) => circuitId === circuit.id).map(({ id, name }) => [id, name]));
  return ground.appliances.flatMap((appliance) => {
    const outlet = names.get(appliance.outletId ?? "");
    return outlet === undefined ? [] : [loadOf(appliance, ground, { outlet, volts })];
  });
}

const short = (amps: number) => String(Math.round(amps * 10) / 10);

/** What one receptacle may feed, by the plug system that the site goes by. */
function notesOf(
  loads: readonly ReconnectionLoad[],
  { plugs, circuit, ground }: { readonly plugs: PlugSystemName; readonly circuit: Circuit; readonly ground: Ground },
): string[] {
  return loads.flatMap((load) => {
    const outlet = ground.outlets.find(({ name, circuitId }) => name === load.outlet && circuitId === circuit.id);
    const limit = receptacleLimit(plugs, circuit.deviceAmps, outlet?.outletAmps ?? null);
    const amps = load.runningAmps;
    if (amps === null || load.barred !== null) return [];
    if (limit !== null && amps > limit.amps)
      return [
        `${load.tag} runs at ${short(amps)} A, above the ${short(limit.amps)} A that one receptacle may feed here (${sourceWords(limit.source)}).`,
      ];
    const { continuousAmps } = plugSystems[plugs];
    const isLong = continuousAmps !== null && amps > continuousAmps;
    return isLong ? [`${load.tag} runs at ${short(amps)} A; for hours about ${continuousAmps} A is advised at such a plug.`] : [];
  });
}
