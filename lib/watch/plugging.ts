import type { ApplianceTable } from "./appliance-table";
import { isFirstByName, type NamedPlace } from "./first-by-name";
import type { LimitTable } from "./limit-table";
import type { OutletTable } from "./outlet-table";
import type { ReceptacleTable } from "./receptacle-table";

const never = Number.NEGATIVE_INFINITY;

/** The tables that know what is plugged in where. */
export interface PlugTables {
  readonly outlets: OutletTable;
  readonly receptacles: ReceptacleTable;
  readonly appliances: ApplianceTable;
  readonly limits: LimitTable;
  /** Told before an appliance leaves a receptacle. */
  readonly onLeave: (receptacle: number, atMs: number) => void;
}

/** What is plugged in where: by the registry at first, then by the tags that the log shows. */
export class Plugging {
  /** Sightings of a tag at the very instant at which it was seen elsewhere. */
  twoPlaces = 0;

  constructor(private readonly tables: PlugTables) {}

  /** Plugs an appliance in, out of where it was. */
  plug(receptacle: number, appliance: number, atMs: number): void {
    const { receptacles, appliances } = this.tables;
    if (receptacles.appliance[receptacle] === appliance) return;
    this.unplug(receptacle, atMs);
    const before = appliances.receptacle[appliance]!;
    if (before >= 0) this.leave(before, atMs);
    this.putBack(receptacle, appliance);
    appliances.lastReceptacle[appliance] = receptacle;
  }

  /** Puts an appliance where it is known to be, without anything having happened. */
  putBack(receptacle: number, appliance: number): void {
    const { receptacles, appliances, limits, outlets } = this.tables;
    appliances.receptacle[appliance] = receptacle;
    receptacles.appliance[receptacle] = appliance;
    receptacles.limit[receptacle] = limits.of(appliances.screened[appliance]!, outlets.nominal(receptacles.outlet[receptacle]!));
  }

  /** Forgets what is here, without anything having happened. */
  takeOut(receptacle: number): void {
    const { receptacles, appliances } = this.tables;
    const appliance = receptacles.appliance[receptacle]!;
    if (appliance >= 0) appliances.receptacle[appliance] = -1;
    receptacles.appliance[receptacle] = -1;
    receptacles.limit[receptacle] = -1;
  }

  /** The appliance was seen elsewhere, so its tag is no longer the last one here. */
  private leave(receptacle: number, atMs: number): void {
    this.unplug(receptacle, atMs);
    this.forgetTag(receptacle);
  }

  private forgetTag(receptacle: number): void {
    this.tables.receptacles.tagSeen[receptacle] = -1;
    this.tables.receptacles.tagSeenMs[receptacle] = Number.POSITIVE_INFINITY;
  }

  private unplug(receptacle: number, atMs: number): void {
    if (this.tables.receptacles.appliance[receptacle]! < 0) return;
    this.tables.onLeave(receptacle, atMs);
    this.takeOut(receptacle);
  }

  /** The log says that whatever is here was unplugged. */
  pullOut(receptacle: number, atMs: number): void {
    this.leave(receptacle, atMs);
  }

  /** A row shows a tag, by the number of its text. */
  seeTag(receptacle: number, tag: number, atMs: number): void {
    const { receptacles, appliances } = this.tables;
    if (receptacles.tagSeen[receptacle] !== tag) {
      const appliance = appliances.ofTagNumber(tag);
      const elsewhere = appliances.receptacle[appliance]!;
      if (elsewhere >= 0 && receptacles.tagSeenMs[elsewhere] === atMs) {
        this.twoPlaces++;
        if (this.isBefore(elsewhere, receptacle)) return;
      }
      receptacles.tagSeen[receptacle] = tag;
      this.plug(receptacle, appliance, atMs);
    }
    receptacles.tagSeenMs[receptacle] = atMs;
  }

  private isBefore(one: number, other: number): boolean {
    return isFirstByName(this.namedPlace(one), this.namedPlace(other));
  }

  private namedPlace(receptacle: number): NamedPlace {
    const { receptacles, outlets } = this.tables;
    return { outlet: outlets.plans[receptacles.outlet[receptacle]!]!.outlet, receptacle: receptacles.nameOf(receptacle) };
  }

  /** Plugs an appliance in where it is recorded to be; that outlet, -1 when it is in no plan. */
  plugRecorded(appliance: number, outlet: number, atMs: number): void {
    const { receptacles, appliances } = this.tables;
    this.plug(receptacles.of(outlet, appliances.screened[appliance]!.receptacle), appliance, atMs);
  }

  /**
   * The only appliance recorded at an outlet, where the record or the log names no receptacle: it is taken to be the one that draws,
   * until a tag says otherwise.
   */
  plugOnlyRecorded(receptacle: number, atMs: number): void {
    const { receptacles, appliances, outlets } = this.tables;
    if (receptacles.appliance[receptacle]! >= 0 || !receptacles.isUntouched(receptacle)) return;
    const only = outlets.recorded[receptacles.outlet[receptacle]!]!;
    const at = only < 0 ? -1 : appliances.receptacle[only]!;
    if (at < 0 || at === receptacle || !receptacles.isUntouched(at)) return;
    if (!receptacles.isWhole(at) && !receptacles.isWhole(receptacle)) return;
    this.plug(receptacle, only, atMs);
    receptacles.tagSeenMs[receptacle] = never;
  }

  /** A trip of a whole outlet is the trip of the only tag that is plugged in there; of several it is nobody's. */
  tagOfTrip(receptacle: number, atMs: number, memoryMs: number): string | null {
    const { receptacles, outlets } = this.tables;
    const own = this.tagAt(receptacle, atMs, memoryMs);
    if (own !== null || !receptacles.isWhole(receptacle)) return own;
    const tags = new Set<string>();
    for (let at = outlets.firstReceptacle[receptacles.outlet[receptacle]!]!; at >= 0; at = receptacles.next[at]!) {
      const tag = this.tagAt(at, atMs, memoryMs);
      if (tag !== null) tags.add(tag);
    }
    return tags.size === 1 ? [...tags][0]! : null;
  }

  /** The tag of a receptacle: the one last seen there within the memory; before any was seen, the appliance that the registry has there. */
  private tagAt(receptacle: number, atMs: number, memoryMs: number): string | null {
    const { receptacles, appliances } = this.tables;
    const tag = receptacles.tagSeen[receptacle]!;
    const seenMs = receptacles.tagSeenMs[receptacle]!;
    if (tag >= 0) return atMs - seenMs <= memoryMs ? appliances.tags.texts[tag]! : null;
    const appliance = receptacles.appliance[receptacle]!;
    return seenMs === never && appliance >= 0 ? appliances.screened[appliance]!.tag : null;
  }
}
