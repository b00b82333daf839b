import type { FindingEvidence } from "./finding-evidence";

/** A minute of readings of one appliance. */
export interface DrawnMinute {
  readonly at: Date;
  readonly maxWatts: number | null;
  readonly meanAmps: number | null;
}

/** More than this is a draw, not the noise of a meter at an empty receptacle (own choice; no source). */
const drawsFromWatts = 3;
const drawsFromAmps = 0.05;

function draws({ maxWatts, meanAmps }: DrawnMinute): boolean {
  return maxWatts === null ? meanAmps !== null && meanAmps >= drawsFromAmps : maxWatts >= drawsFromWatts;
}

const minuteText = (at: Date) => `${at.toISOString().slice(0, 16).replace("T", " ")} UTC`;

/**
 * The evidence that an appliance draws although it is out of use since `since`, together with what was `known` before; null when these
 * minutes show no draw after it. A minute that began before does not count. Evidence changes at most by day and by a larger draw, so that
 * a stream of readings does not rewrite the finding each minute.
 */
export function drawingOutOfUse(
  since: Date,
  minutes: readonly DrawnMinute[],
  known: FindingEvidence | null,
): (FindingEvidence & { readonly fromAt: string; readonly toAt: string }) | null {
  const drawn = minutes.filter((minute) => minute.at >= since && draws(minute));
  const times = drawn.map(({ at }) => at.getTime());
  if (times.length === 0) return null;
  const first = Math.min(known?.fromAt ? Date.parse(known.fromAt) : Number.POSITIVE_INFINITY, ...times);
  const lastDay = new Date(Math.max(...times)).toISOString().slice(0, 10);
  const day = known?.toAt && known.toAt > lastDay ? known.toAt : lastDay;
  const watts = Math.max(known?.seen?.value ?? 0, ...drawn.map(({ maxWatts }) => Math.round(maxWatts ?? 0)));
  return {
    figures: [
      { name: "Out of use since", value: minuteText(since) },
      { name: "First seen drawing", value: minuteText(new Date(first)) },
      { name: "Seen last on", value: day },
      ...(watts > 0 ? [{ name: "Largest draw", value: `${watts} W` }] : []),
    ],
    reasons: [
      "Readings that are its own by its tag, or by the receptacle it is registered at, show a draw after it was taken out of use.",
      "Either somebody uses it, or something else is plugged in where the registry says it is: go and look.",
    ],
    seen: { value: watts, limit: 0, unit: "W" },
    fromAt: new Date(first).toISOString(),
    toAt: day,
  };
}
