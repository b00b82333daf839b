import type { Sighting } from "./observation";

/** Thins a log's rows to the sightings worth keeping, in constant memory a receptacle. */
export interface SightingSeries {
  /** Takes a row that names a tag. Rows of one receptacle come in time order; rows of several may be mixed. */
  readonly take: (sighting: Sighting) => void;
  /** The sightings that are settled so far; they are handed out once. */
  readonly drain: () => Sighting[];
  /** The series that go on, to be handed to the next. */
  readonly running: () => RunningSeries;
  /** The rest, at the end of the log. */
  readonly finish: () => Sighting[];
}

interface Series {
  first: Sighting;
  last: Sighting;
}

/** An unbroken series is told at least this often, so that it shows when the tag was there. */
const tellEveryMs = 24 * 3_600_000;

export type RunningSeries = readonly (readonly [first: Sighting, last: Sighting])[];

const keyOf = ({ outlet, receptacle }: Sighting) => `${outlet}\u0000${receptacle ?? ""}`;

/**
 * Hands out the first and the last sighting of each unbroken series of a tag at a receptacle, and one a day between. `before` are the
 * series that were running when another left off.
 */
export function makeSightingSeries(before: RunningSeries = []): SightingSeries {
  const running = new Map<string, Series>(before.map(([first, last]) => [keyOf(first), { first, last }]));
  let settled: Sighting[] = [];
  const end = ({ first, last }: Series) => {
    if (last !== first) settled.push(last);
  };
  return {
    take(sighting) {
      const key = keyOf(sighting);
      const series = running.get(key);
      const unbroken = series?.first.tag === sighting.tag && sighting.at.getTime() - series.first.at.getTime() < tellEveryMs;
      if (series && unbroken) {
        series.last = sighting;
        return;
      }
      if (series) end(series);
      running.set(key, { first: sighting, last: sighting });
      settled.push(sighting);
    },
    drain() {
      const out = settled;
      settled = [];
      return out;
    },
    running: () => [...running.values()].map(({ first, last }) => [first, last]),
    finish() {
      for (const series of running.values()) end(series);
      running.clear();
      return this.drain();
    },
  };
}
