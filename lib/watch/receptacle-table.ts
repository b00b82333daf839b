import { longer, roomFor } from "./columns";
import { NumberedNames } from "./numbered-names";
import type { OutletTable } from "./outlet-table";
import { receptacleName } from "./receptacle-name";
import type { Row } from "./row";
import type { StateCarrier } from "./state-carrier";

/** Number of the empty name. */
const wholeOutlet = 0;

/** An outlet has at most so many receptacles; what a log names beyond is taken as the outlet as a whole. */
const mostReceptacles = 64;

const never = Number.NEGATIVE_INFINITY;

/**
 * The plug positions of a screening by number, column by column: what is plugged in, what it draws, and the last row seen. A receptacle
 * without a name stands for rows that name none at an outlet with several.
 */
export class ReceptacleTable {
  count = 0;
  private readonly names = new NumberedNames([""]);
  outlet = new Int32Array(0);
  /** The next receptacle of the same outlet, in the order in which they were first seen; -1 for none. */
  next = new Int32Array(0);
  private name = new Int32Array(0);
  /** What is plugged in, -1 for nothing known, and the limit it is judged by. */
  appliance = new Int32Array(0);
  limit = new Int32Array(0);
  /** The held current, and when it was read. */
  amps = new Float64Array(0);
  readAtMs = new Float64Array(0);
  lastAtMs = new Float64Array(0);
  /** Number of the tag's text last seen, -1 for none, and when: before any -Infinity, after it left +Infinity. */
  tagSeen = new Int32Array(0);
  tagSeenMs = new Float64Array(0);
  /** 1 where the draw is judged in amperes, 0 in watts. */
  byAmps = new Uint8Array(0);
  /** The four figures of the last row side by side, in single precision: enough to know the same row again. */
  private lastFigures = new Float32Array(0);
  private lastTag = new Int32Array(0);
  private lastEvent = new Uint8Array(0);

  constructor(
    private readonly outlets: OutletTable,
    private readonly onGrow: (count: number) => void,
  ) {}

  grow(count: number): void {
    this.outlet = longer(this.outlet, count);
    this.next = longer(this.next, count, -1);
    this.name = longer(this.name, count);
    this.appliance = longer(this.appliance, count, -1);
    this.limit = longer(this.limit, count, -1);
    this.amps = longer(this.amps, count);
    this.readAtMs = longer(this.readAtMs, count, never);
    this.lastAtMs = longer(this.lastAtMs, count, never);
    this.tagSeen = longer(this.tagSeen, count, -1);
    this.tagSeenMs = longer(this.tagSeenMs, count, never);
    this.byAmps = longer(this.byAmps, count);
    this.lastFigures = longer(this.lastFigures, count * 4);
    this.lastTag = longer(this.lastTag, count, -1);
    this.lastEvent = longer(this.lastEvent, count);
    this.onGrow(count);
  }

  /** The receptacle of an outlet by a text, made when it is new; without one the only one, or the outlet as a whole. */
  of(outlet: number, text: string | null): number {
    const number = text === null ? -1 : this.names.find(text);
    for (let at = this.outlets.firstReceptacle[outlet]!; at >= 0 && number >= 0; at = this.next[at]!)
      if (this.name[at] === number) return at;
    return this.named(outlet, receptacleName(text) ?? (this.outlets.plans[outlet]!.receptacles === 1 ? "1" : ""));
  }

  /** The receptacle of an outlet by its canonical name; empty for the outlet as a whole. */
  named(outlet: number, name: string): number {
    const number = this.names.numberOf(name);
    let last = -1;
    let count = 0;
    for (let at = this.outlets.firstReceptacle[outlet]!; at >= 0; at = this.next[at]!) {
      if (this.name[at] === number) return at;
      last = at;
      count++;
    }
    if (count >= mostReceptacles && name !== "") return this.named(outlet, "");
    const made = this.count++;
    if (made >= this.outlet.length) this.grow(roomFor(made + 1, this.outlet.length));
    this.outlet[made] = outlet;
    this.name[made] = number;
    if (last < 0) this.outlets.firstReceptacle[outlet] = made;
    else this.next[last] = made;
    return made;
  }

  /** All receptacles of an outlet, in the order in which they were first seen. */
  allOf(outlet: number): number[] {
    const found: number[] = [];
    for (let at = this.outlets.firstReceptacle[outlet]!; at >= 0; at = this.next[at]!) found.push(at);
    return found;
  }

  nameOf(receptacle: number): string {
    return this.names.texts[this.name[receptacle]!]!;
  }

  /** Whether it stands for the outlet as a whole. */
  isWhole(receptacle: number): boolean {
    return this.name[receptacle] === wholeOutlet;
  }

  /** Whether neither a tag nor a row was ever seen here. */
  isUntouched(receptacle: number): boolean {
    return this.tagSeenMs[receptacle] === never && this.lastAtMs[receptacle] === never;
  }

  /** Keeps a row as the last one seen here. */
  keepLast(receptacle: number, row: Row): void {
    this.lastAtMs[receptacle] = row.atMs;
    const { lastFigures } = this;
    const at = receptacle * 4;
    lastFigures[at] = row.watts;
    lastFigures[at + 1] = row.amps;
    lastFigures[at + 2] = row.volts;
    lastFigures[at + 3] = row.powerFactor;
    this.lastTag[receptacle] = row.tag;
    this.lastEvent[receptacle] = row.event;
  }

  /** Whether a row of the same instant repeats the last one. */
  isRepeated(receptacle: number, row: Row): boolean {
    const { lastFigures } = this;
    const at = receptacle * 4;
    return (
      Object.is(lastFigures[at]!, Math.fround(row.watts)) &&
      Object.is(lastFigures[at + 1]!, Math.fround(row.amps)) &&
      Object.is(lastFigures[at + 2]!, Math.fround(row.volts)) &&
      Object.is(lastFigures[at + 3]!, Math.fround(row.powerFactor)) &&
      this.lastTag[receptacle] === row.tag &&
      this.lastEvent[receptacle] === row.event
    );
  }

  /** Carries what the rows told; `carryTag` names a tag's number. What is plugged in is carried with the appliances. */
  carry(receptacle: number, state: StateCarrier, carryTag: (tag: number) => number): void {
    for (const column of [this.amps, this.readAtMs, this.lastAtMs, this.tagSeenMs, this.byAmps])
      column[receptacle] = state.number(column[receptacle]!);
    for (let at = receptacle * 4; at < receptacle * 4 + 4; at++) this.lastFigures[at] = state.number(this.lastFigures[at]!);
    this.lastEvent[receptacle] = state.number(this.lastEvent[receptacle]!);
    this.lastTag[receptacle] = carryTag(this.lastTag[receptacle]!);
    this.tagSeen[receptacle] = carryTag(this.tagSeen[receptacle]!);
  }
}
