import { tagKey } from "@/lib/identity/tag-code";
import { isFirstByName } from "@/lib/watch/first-by-name";
import type { Sighting } from "./observation";

/** Thins a log's rows to the sightings worth keeping, in constant memory a tag. */
export interface SightingSeries {
  /** Takes a row that names a tag. Rows of one tag come in time order; those of one instant in any order. */
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

const namedPlace = ({ outlet, receptacle }: Sighting) => ({ outlet, receptacle: receptacle ?? "" });

function isSamePlace(one: Sighting, other: Sighting): boolean {
  return one.outlet === other.outlet && one.receptacle === other.receptacle;
}

/** Seen elsewhere at this very instant, at a place that comes first by name. */
function isContradicted(sighting: Sighting, { last }: Series): boolean {
  return last.at.getTime() === sighting.at.getTime() && isFirstByName(namedPlace(last), namedPlace(sighting));
}

/**
 * Hands out the first and the last sighting of each unbroken series of a tag at a receptacle, and one a day between; a tag seen elsewhere
 * ends its series. `before` are the series that were running when another left off.
 */
export function makeSightingSeries(before: RunningSeries = []): SightingSeries {
  const running = new Map<string, Series>(before.map(([first, last]) => [tagKey(first.tag), { first, last }]));
  let settled: Sighting[] = [];
  const end = ({ first, last }: Series) => {
    if (last !== first) settled.push(last);
  };
  const begin = (sighting: Sighting) => {
    running.set(tagKey(sighting.tag), { first: sighting, last: sighting });
    settled.push(sighting);
  };
  return {
    take(sighting) {
      const series = running.get(tagKey(sighting.tag));
      const goesOn = series && isSamePlace(series.first, sighting);
      if (series && !goesOn && isContradicted(sighting, series)) return;
      if (goesOn && sighting.at.getTime() - series.first.at.getTime() < tellEveryMs) {
        if (sighting.at >= series.last.at) series.last = sighting;
        return;
      }
      if (series) end(series);
      begin(sighting);
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
