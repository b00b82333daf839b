import type { EngineTables } from "./engine-tables";
import type { Row } from "./row";
import { causeOf, endsDraw, eventOf } from "./row-event";
import type { SetAsideReason } from "./set-aside";
import type { StateCarrier } from "./state-carrier";

const never = Number.NEGATIVE_INFINITY;

/** Judges rows in the order of time, each by everything there is to judge. */
export class RowJudge {
  judged = 0;
  apart = 0;
  latestMs = Number.NEGATIVE_INFINITY;
  private tripDueMs = Number.POSITIVE_INFINITY;
  private readonly memoryMs: number = Number.NaN;

  constructor(
    private readonly tables: EngineTables,
    private readonly count: (reason: SetAsideReason) => void,
  ) {
    this.memoryMs = tables.policy.tagMemoryHours * 3_600_000;
  }

  /** Judges a row in its turn. */
  judge(row: Row): void {
    const { receptacles, outlets, plugs, line, loads, draws } = this.tables;
    const { receptacle } = row;
    const { atMs } = row;
    const lastMs = receptacles.lastAtMs[receptacle]!;
    if (atMs <= lastMs && !this.isNews(row)) return;
    const outlet = receptacles.outlet[receptacle]!;
    const isApart = outlets.isApart[outlet]!;
    row.outlet = outlet;
    row.isApart = isApart;
    if (receptacles.appliance[receptacle]! < 0) plugs.plugOnlyRecorded(receptacle, atMs);
    receptacles.keepLast(receptacle, row);
    this.judged++;
    if (atMs > this.latestMs) this.latestMs = atMs;
    this.apart += isApart;
    if (atMs > this.tripDueMs) this.settleTrips(outlet, atMs);
    if (lastMs === never) outlets.seeFirst(outlet, atMs);
    outlets.lastMs[outlet] = atMs;
    const { tag } = row;
    if (tag >= 0) plugs.seeTag(receptacle, tag, atMs);
    line.observe(row);
    if (row.event !== 0 && this.takeEvent(row)) return;
    // None is above 1: a percentage, say, which would hide an overload. It counts as unknown.
    if (row.powerFactor > 1) row.powerFactor = Number.NaN;
    loads.measure(row);
    draws.judge(row);
  }

  private settleTrips(outlet: number, atMs: number): void {
    const { sites, outlets } = this.tables;
    const site = sites[outlets.site[outlet]!]!;
    if (atMs <= site.tripDueMs) return;
    site.settleTrips(atMs);
    this.findTripDue();
  }

  /** When the next trip of any site can be settled. */
  private findTripDue(): void {
    this.tripDueMs = this.tables.sites.reduce((least, site) => Math.min(least, site.tripDueMs), Number.POSITIVE_INFINITY);
  }

  /** Whether a row not newer than the last one of its receptacle says anything new; counted when it does not. */
  private isNews(row: Row): boolean {
    const { receptacles } = this.tables;
    const { receptacle } = row;
    const isLate = row.atMs < receptacles.lastAtMs[receptacle]!;
    if (!isLate && !receptacles.isRepeated(receptacle, row)) return true;
    this.count(isLate ? "late" : "repeated");
    return false;
  }

  /** What an event does; true when it ended the draw. */
  private takeEvent(row: Row): boolean {
    const { receptacles, plugs, loads } = this.tables;
    const number = row.event;
    const { receptacle } = row;
    const { atMs } = row;
    if (!endsDraw(number)) return false;
    if (eventOf(number) === "trip") this.takeTrip(row);
    const outlet = receptacles.outlet[receptacle]!;
    if (receptacles.isWhole(receptacle)) for (const each of receptacles.allOf(outlet)) this.endDraw(each, atMs);
    else this.endDraw(receptacle, atMs);
    if (eventOf(number) === "unplugged") plugs.pullOut(receptacle, atMs);
    loads.addUp(row);
    return true;
  }

  private endDraw(receptacle: number, atMs: number): void {
    this.tables.draws.drawEnds(receptacle, atMs);
    this.tables.loads.drawEnds(receptacle, atMs);
  }

  private takeTrip(row: Row): void {
    const { outlets, receptacles, plugs, loads, draws, sites } = this.tables;
    const { receptacle } = row;
    const outlet = receptacles.outlet[receptacle]!;
    const { atMs } = row;
    sites[outlets.site[outlet]!]!.addTrip({
      atMs,
      outlet: outlets.plans[outlet]!.outlet,
      receptacle: receptacles.nameOf(receptacle) || null,
      tag: plugs.tagOfTrip(receptacle, atMs, this.memoryMs),
      cause: causeOf(row.event),
      overLimit: draws.excess.isAbove(receptacle) || loads.excess.isAbove(outlet),
      followsSupply: false,
    });
    this.findTripDue();
  }

  carry(state: StateCarrier): void {
    this.judged = state.number(this.judged);
    this.apart = state.number(this.apart);
    this.latestMs = state.number(this.latestMs);
    this.tripDueMs = state.number(this.tripDueMs);
  }
}
