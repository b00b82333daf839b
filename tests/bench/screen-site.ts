import { parseRatingText } from "@/lib/electrical/parse-rating";
import type { PlannedOutlet } from "@/lib/watch/outlet-plan";
import type { ReadingBatch } from "@/lib/watch/reading-batch";
import type { ScreenedAppliance } from "@/lib/watch/screened-appliance";
import type { Screening } from "@/lib/watch/screening";
import { Random } from "./random";

/** A kind of appliance, its plate, and what it draws while nothing is wrong. */
export interface SiteItem {
  readonly category: string;
  readonly plate: string;
  readonly watts: number;
}

/** What a site of every kind of limit has: watts referred to rated voltage, plain watts, amperes, lamps. */
export const mixedItems: readonly SiteItem[] = [
  { category: "space heater", plate: "120V~ 60Hz 1500W", watts: 1480 },
  { category: "fan", plate: "120V 60Hz 75W", watts: 70 },
  { category: "monitor", plate: "INPUT 100-240V~ 1.5A", watts: 90 },
  { category: "floor lamp", plate: "120V 3xMAX 60W E26", watts: 150 },
];

/** Motors only, whose watts are judged as measured. */
export const plainItems: readonly SiteItem[] = [
  { category: "vacuum cleaner", plate: "120V~ 60Hz 1500W", watts: 1480 },
  { category: "fan", plate: "120V 60Hz 75W", watts: 70 },
  { category: "fan", plate: "120V 60Hz 100W", watts: 90 },
  { category: "fan", plate: "120V 60Hz 160W", watts: 150 },
];

export interface InventedSite {
  readonly outlets: PlannedOutlet[];
  readonly appliances: ScreenedAppliance[];
}

/**
 * An invented site on two legs: two receptacles an outlet, four items on a circuit of two outlets, which is loaded within its continuous
 * share while nothing is wrong.
 */
export function inventedSite(outletCount: number, items: readonly SiteItem[] = mixedItems): InventedSite {
  const outlets = Array.from({ length: outletCount }, (_, at) => ({
    site: "Alder House",
    timeZone: "America/Chicago",
    unit: null,
    circuit: `C${at >> 1}`,
    deviceAmps: 20,
    volts: 120,
    leg: (at >> 1) % 2 === 0 ? "A" : "B",
    outlet: `O${at}`,
    outletAmps: 15,
    receptacles: 2,
  }));
  const ratings = items.map(({ plate }) => parseRatingText(plate));
  const appliances = outlets.flatMap(({ site, outlet }, at) =>
    [0, 1].map((half): ScreenedAppliance => {
      const item = (at * 2 + half) % items.length;
      const { category } = items[item]!;
      return { tag: `T${at}-${half + 1}`, site, outlet, receptacle: String(half + 1), category, rating: ratings[item]! };
    }),
  );
  return { outlets, appliances };
}

/** Numbers of a site's receptacles in the order of its outlets. */
export function receptaclesOf(site: InventedSite, screening: Screening): Int32Array {
  return Int32Array.from(site.appliances, ({ outlet, receptacle }) => screening.receptacleNumber(outlet ?? "", receptacle));
}

/** Makes readings, one a second from each receptacle in turn; each now and then draws half as much again for ten seconds. */
export class ReadingMaker {
  private readonly random = new Random(20_260_301);
  private readonly failing = new Map<number, number>();
  private made = 0;

  constructor(
    private readonly receptacles: Int32Array,
    private readonly items: readonly SiteItem[] = mixedItems,
    private readonly startMs = Date.UTC(2026, 2, 1),
  ) {}

  /** Fills a batch with the next readings. */
  fill(batch: ReadingBatch): void {
    const { random, receptacles, items } = this;
    const every = receptacles.length;
    for (let at = 0; at < batch.capacity; at++, this.made++) {
      const receptacle = this.made % every;
      const watts = items[receptacle % items.length]!.watts * this.excess(receptacle) + Math.round(random.next() * 100) / 10;
      const volts = 119 + Math.round(random.next() * 20) / 10;
      batch.atMs[at] = this.startMs + Math.floor(this.made / every) * 1000;
      batch.watts[at] = watts;
      batch.amps[at] = Math.round((watts / volts) * 1000) / 1000;
      batch.volts[at] = volts;
      batch.powerFactor[at] = 0.98;
      batch.tag[at] = -1;
      batch.event[at] = 0;
      batch.receptacle[at] = receptacles[receptacle]!;
    }
    batch.count = batch.capacity;
  }

  private excess(receptacle: number): number {
    if (this.random.next() < 0.0001) this.failing.set(receptacle, 10);
    const left = this.failing.get(receptacle) ?? 0;
    if (left > 0) this.failing.set(receptacle, left - 1);
    return left > 0 ? 1.5 : 1;
  }
}
