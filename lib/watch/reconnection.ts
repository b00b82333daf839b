import { deviceModels } from "@/lib/electrical/device-curve";
import { type InstantBandName, instantBands } from "@/lib/electrical/device-instant";
import { grouped } from "./grouped";
import { seededWhole } from "./reconnection-chance";
import { type AmpsStretch, type Connected, heatOverTime, sumOverTime } from "./reconnection-curve";
import { compareLoads, type LoadStart, type ReconnectionLoad, startOf } from "./reconnection-load";

/** The circuit and how it is to be brought back. */
export interface ReconnectionCircuit {
  /** Null when the plan does not know the device: then nothing can be checked. */
  readonly deviceAmps: number | null;
  readonly standard: keyof typeof deviceModels;
  readonly band: InstantBandName;
  readonly continuousShare: number;
  /** The same seed gives the same plan. */
  readonly seed: number;
}

/** Waits between outlets (random) and between receptacles of one outlet, seconds. Common practice, no source. */
export const reconnectionWaits = { least: 15, most: 30, pair: 2 } as const;

export interface ReconnectionStep extends LoadStart {
  readonly load: ReconnectionLoad;
  readonly atSeconds: number;
  /** Running current of the circuit once this load runs. */
  readonly sumAmps: number;
  /** Highest current while it starts, the others running. */
  readonly peakAmps: number;
}

export interface LeftOff {
  readonly load: ReconnectionLoad;
  readonly why: string;
}

export interface ReconnectionPlan {
  readonly steps: readonly ReconnectionStep[];
  /** Never: out of use, or with an open danger. */
  readonly barred: readonly LeftOff[];
  /** Not with the others: the device would not carry them together, or the draw is not known. */
  readonly left: readonly LeftOff[];
  readonly endSeconds: number;
  readonly amps: readonly AmpsStretch[];
  readonly heat: readonly { readonly seconds: number; readonly heat: number }[];
  readonly runningAmps: number;
  readonly peakAmps: number;
  /** Highest thermal state over the trip point; null when the device is not known. */
  readonly heatShare: number | null;
  /** Thermal state after hours of the running current, over the trip point. */
  readonly lastingShare: number | null;
  readonly remarks: readonly string[];
}

const tailSeconds = 60;
const short = (value: number) => String(Math.round(value * 10) / 10);

/**
 * A staggered plan for connecting the loads of a circuit after an outage: cold storage first, outlet by outlet with random waits,
 * receptacles of one outlet 2 s apart. All are taken to run at once, as after a long outage they do. A load that would bring the
 * circuit above its device, or whose start would trip it by its curve, is left for people to decide.
 */
export function planReconnection(circuit: ReconnectionCircuit, loads: readonly ReconnectionLoad[]): ReconnectionPlan {
  const chance = seededWhole(circuit.seed);
  const barred = [...loads].sort(compareLoads).flatMap((load) => (load.barred === null ? [] : [{ load, why: load.barred }]));
  const [steps, left]: [ReconnectionStep[], LeftOff[]] = [[], []];
  let at = 0;
  for (const group of grouped([...loads].filter(({ barred }) => barred === null).sort(compareLoads), ({ outlet }) => outlet).values()) {
    // The wait is drawn for every outlet, so that leaving one load off does not shift the others.
    const wait = chance(reconnectionWaits.least, reconnectionWaits.most);
    let next = steps.length === 0 ? 0 : at + wait;
    for (const load of group) {
      const tried = tryLoad(circuit, steps, load, next);
      if ("why" in tried) {
        left.push(tried);
        continue;
      }
      steps.push(tried);
      at = next;
      next += reconnectionWaits.pair;
    }
  }
  return { steps, barred, left, ...judged(circuit, steps) };
}

function tryLoad(
  circuit: ReconnectionCircuit,
  steps: readonly ReconnectionStep[],
  load: ReconnectionLoad,
  at: number,
): ReconnectionStep | LeftOff {
  const start = startOf(load);
  if (start === null) return { load, why: "What it draws is not known: neither its plate nor readings tell." };
  const before = steps.reduce((sum, { runningAmps }) => sum + runningAmps, 0);
  const sumAmps = before + start.runningAmps;
  const { deviceAmps } = circuit;
  if (deviceAmps !== null && sumAmps > deviceAmps)
    return {
      load,
      why: `With it the circuit would carry ${short(sumAmps)} A, above its ${short(deviceAmps)} A device: connect it only while something else is off.`,
    };
  const step = { ...start, load, atSeconds: at, sumAmps, peakAmps: before + start.startAmps };
  if (deviceAmps !== null && heatShare(circuit, deviceAmps, [...steps, step]) >= 1)
    return { load, why: "By the device's curve its start would trip the circuit with the others running: connect it alone." };
  return step;
}

function heatShare(circuit: ReconnectionCircuit, deviceAmps: number, steps: readonly Connected[]): number {
  const model = deviceModels[circuit.standard];
  const end = (steps.at(-1)?.atSeconds ?? 0) + tailSeconds;
  const heat = heatOverTime(sumOverTime(steps, end), deviceAmps, model);
  return heat.reduce((most, point) => Math.max(most, point.heat), 0) / model.k ** 2;
}

function judged(circuit: ReconnectionCircuit, steps: readonly ReconnectionStep[]) {
  const { deviceAmps } = circuit;
  const endSeconds = (steps.at(-1)?.atSeconds ?? 0) + tailSeconds;
  const amps = sumOverTime(steps, endSeconds);
  const runningAmps = steps.at(-1)?.sumAmps ?? 0;
  const peakAmps = amps.reduce((most, stretch) => Math.max(most, stretch.amps), 0);
  const model = deviceModels[circuit.standard];
  const known = deviceAmps === null ? null : { deviceAmps, share: heatShare(circuit, deviceAmps, steps) };
  return {
    endSeconds,
    amps,
    heat: known === null ? [] : heatOverTime(amps, known.deviceAmps, model),
    runningAmps,
    peakAmps,
    heatShare: known?.share ?? null,
    lastingShare: known === null ? null : (runningAmps / known.deviceAmps) ** 2 / model.k ** 2,
    remarks: remarksOf(circuit, steps, { runningAmps, peakAmps }),
  };
}

function remarksOf(
  circuit: ReconnectionCircuit,
  steps: readonly ReconnectionStep[],
  sum: { runningAmps: number; peakAmps: number },
): string[] {
  const { deviceAmps, continuousShare } = circuit;
  if (deviceAmps === null)
    return ["The rating of this circuit's device is not known, so nothing was checked against its curve: enter it first."];
  const band = instantBands[circuit.band];
  const remarks: string[] = [];
  if (sum.runningAmps > continuousShare * deviceAmps)
    remarks.push(
      `Together they run at ${short(sum.runningAmps)} A, above ${Math.round(continuousShare * 100)} % of the ${short(deviceAmps)} A device: for three hours or more that is too much.`,
    );
  if (sum.peakAmps >= band.holds * deviceAmps)
    remarks.push(
      `A start reaches ${short(sum.peakAmps)} A, ${short(sum.peakAmps / deviceAmps)} times the rating; from ${band.holds} times on the device may trip at once.`,
    );
  const halfCycle = steps.filter((step) => (step.halfCycleAmps ?? 0) >= band.holds * deviceAmps).map(({ load }) => load.tag);
  if (halfCycle.length > 0)
    remarks.push(
      `The first half-cycle of ${halfCycle.join(", ")} may be ${band.holds} times the rating or more; devices usually ride through so short a peak, but not always.`,
    );
  return remarks;
}
