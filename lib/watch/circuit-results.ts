import { deviceForContinuous } from "@/lib/electrical/circuit-limits";
import { calibrationPoints, deviceModels, tripSeconds } from "@/lib/electrical/device-curve";
import type { ExcessEpisode } from "./excess-episode";
import { lasting, makeResult, short } from "./make-result";
import type { ScreeningResult } from "./screening-result";

/** A circuit as its results name it. */
export interface NamedCircuit {
  readonly site: string;
  readonly circuit: string;
  readonly deviceAmps: number;
  /** Share of the device that a continuous load may take. */
  readonly continuousShare: number;
  readonly northAmerican: boolean;
}

/** The device's published trip points in amperes, and when the thermal model expects a trip at the load seen. For the inspector. */
function devicePoints({ deviceAmps, northAmerican }: NamedCircuit, peak: number): string {
  const standard = northAmerican ? "UL 489" : "IEC 60898-1";
  const points = calibrationPoints[standard].filter((point) => point.trips);
  const must = points.map((point) => `${short(point.multiple * deviceAmps)} A within ${lasting(point.seconds * 1000)}`).join(", ");
  const expected = tripSeconds(deviceModels[standard], peak / deviceAmps);
  const model = Number.isFinite(expected)
    ? `at ${short(peak)} A a thermal model expects a trip after about ${lasting(expected * 1000)}`
    : `at ${short(peak)} A it may hold for good`;
  return `By ${standard} a ${short(deviceAmps)} A device must trip at ${must}; ${model}. That it holds is no permission to go on.`;
}

function limitWords(circuit: NamedCircuit, episode: ExcessEpisode, continuous: boolean): string {
  if (!continuous) return `Limit: the rating of the circuit's device, ${short(circuit.deviceAmps)} A.`;
  const share = Math.round(circuit.continuousShare * 100);
  return `Limit: a load of 3 h or more may take ${share} % of the ${short(circuit.deviceAmps)} A device (NEC Article 100 and 210.20(A)); ${short(episode.peak)} A asks for a device of ${short(deviceForContinuous(episode.peak))} A and conductors to match.`;
}

/** The result of a circuit above its device's rating, or above its continuous share for hours. */
export function circuitResult(circuit: NamedCircuit, episode: ExcessEpisode, continuous: boolean): ScreeningResult {
  const measure = { fromMs: episode.fromMs, toMs: episode.toMs, value: episode.peak, limit: episode.limit, unit: "A" as const };
  return makeResult("circuit_overload", { site: circuit.site, circuit: circuit.circuit }, measure, [
    `The circuit's outlets together carried up to ${short(episode.peak)} A, above ${short(episode.limit)} A for ${lasting(episode.toMs - episode.fromMs)}.`,
    limitWords(circuit, episode, continuous),
    ...(continuous ? [] : [devicePoints(circuit, episode.peak)]),
    "Move something to another circuit; a larger breaker or fuse is no remedy.",
  ]);
}
