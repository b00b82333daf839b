import { type HolderChange, makeHolderAt } from "./energy-holder";
import { hourMs } from "./energy-hour";
import type { Reading } from "./reading";

/** A power reading of one receptacle in whole milliwatts; `holder` where the row itself names its appliance. */
export interface EnergySample {
  readonly atMs: number;
  readonly milliwatts: number;
  readonly holder: string | null;
}

/** What one holder of a receptacle used in one hour: energy in whole microjoules (mW x ms), time measured, time without reading. */
export interface EnergyBooking {
  readonly hourMs: number;
  readonly holder: string;
  readonly microjoules: number;
  readonly measuredMs: number;
  readonly gapMs: number;
}

export interface ReceptacleStretch {
  /** In any order. */
  readonly samples: readonly EnergySample[];
  readonly timeline: readonly HolderChange[];
  /** Whole hours. */
  readonly fromMs: number;
  readonly toMs: number;
  /** A reading holds until the next, at most this long. */
  readonly holdMs: number;
  readonly hourOf: (atMs: number) => number;
}

/**
 * The power that a row states, in whole milliwatts: `off`, `trip` and `unplugged` are zero; else watts; else volts x amps x power
 * factor where all three were measured and the factor is one (at most 1). Null where it states none: amps alone are no watts. Meter error is far above half a milliwatt.
 */
export function milliwattsOf(row: Pick<Reading, "watts" | "amps" | "volts" | "powerFactor" | "event">): number | null {
  if (row.event === "off" || row.event === "trip" || row.event === "unplugged") return 0;
  const { watts, amps, volts, powerFactor } = row;
  const product = amps === null || volts === null || powerFactor === null || powerFactor > 1 ? null : amps * volts * powerFactor;
  const power = watts ?? product;
  return power === null || !(power >= 0) || power === Number.POSITIVE_INFINITY ? null : Math.round(power * 1000);
}

interface Segment {
  readonly fromMs: number;
  readonly toMs: number;
  /** Null: no reading holds here. */
  readonly milliwatts: number | null;
  readonly holder: string | null;
}

/** The stretch as measured segments and gaps, without holes between. Of rows of one instant the last counts. */
function segmentsOf({ samples, fromMs, toMs, holdMs }: ReceptacleStretch): Segment[] {
  const sorted = [...samples].sort((a, b) => a.atMs - b.atMs);
  const segments: Segment[] = [];
  let at = fromMs;
  const put = (until: number, sample: EnergySample | null) => {
    const end = Math.min(until, toMs);
    if (end <= at) return;
    segments.push({ fromMs: at, toMs: end, milliwatts: sample?.milliwatts ?? null, holder: sample?.holder ?? null });
    at = end;
  };
  sorted.forEach((sample, i) => {
    put(sample.atMs, null);
    put(Math.min(sorted[i + 1]?.atMs ?? Number.POSITIVE_INFINITY, sample.atMs + holdMs), sample);
  });
  put(toMs, null);
  return segments;
}

interface Sum {
  microjoules: number;
  measuredMs: number;
  gapMs: number;
}

/** Books one receptacle: hour by hour to whoever held it. Gaps are counted, never filled in; hours without any reading are not booked. */
export function bookReceptacle(stretch: ReceptacleStretch): EnergyBooking[] {
  const hours = new Map<number, Map<string, Sum>>();
  const holderAt = makeHolderAt(stretch.timeline);
  for (const segment of segmentsOf(stretch)) {
    for (let at = segment.fromMs; at < segment.toMs; ) {
      const hour = stretch.hourOf(at);
      const recorded = holderAt(at);
      const end = Math.min(segment.toMs, hour + hourMs, segment.holder === null ? recorded.untilMs : Number.POSITIVE_INFINITY);
      add(hours, { hour, holder: segment.holder ?? recorded.holder }, end - at, segment.milliwatts);
      at = end;
    }
  }
  return [...hours].flatMap(([hour, holders]) => {
    const isMeasured = [...holders.values()].some((sum) => sum.measuredMs > 0);
    return isMeasured ? [...holders].map(([holder, sum]) => ({ hourMs: hour, holder, ...sum })) : [];
  });
}

function add(hours: Map<number, Map<string, Sum>>, key: { hour: number; holder: string }, ms: number, milliwatts: number | null): void {
  const holders = hours.get(key.hour) ?? new Map<string, Sum>();
  const sum = holders.get(key.holder) ?? { microjoules: 0, measuredMs: 0, gapMs: 0 };
  if (milliwatts === null) sum.gapMs += ms;
  else {
    sum.microjoules += milliwatts * ms;
    sum.measuredMs += ms;
  }
  holders.set(key.holder, sum);
  hours.set(key.hour, holders);
}
