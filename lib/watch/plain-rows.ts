import { ByteNames } from "./byte-names";
import { type LogColumn, logColumnPlaces, logColumns } from "./log-columns";
import type { Reading } from "./reading";
import { receptacleName } from "./receptacle-name";
import { isTimeZone, usualOffset } from "./zone-time";

const comma = 0x2c;
const zero = 0x30;
const nine = 0x39;
const space = 0x20;

/** Values of a cell that is not a plain figure. */
const notPlain = Number.NEGATIVE_INFINITY;

function twoDigits(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]! - zero;
  const ones = bytes[at + 1]! - zero;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

function fourBytes(bytes: Uint8Array, at: number): number {
  return (bytes[at]! << 24) | (bytes[at + 1]! << 16) | (bytes[at + 2]! << 8) | bytes[at + 3]!;
}

/** Midnight UTC of `2026-03-01`, ms; NaN for a day that does not exist or is written otherwise. */
function readDay(bytes: Uint8Array, from: number): number {
  if (bytes[from + 4] !== 0x2d || bytes[from + 7] !== 0x2d) return Number.NaN;
  const year = twoDigits(bytes, from) * 100 + twoDigits(bytes, from + 2);
  const month = twoDigits(bytes, from + 5);
  const day = twoDigits(bytes, from + 8);
  const date = new Date(Date.UTC(year, month - 1, day));
  const exists = year >= 1000 && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return exists ? date.getTime() : Number.NaN;
}

const powers = Array.from({ length: 16 }, (_, exponent) => 10 ** exponent);

/** Digits with at most one point and at most 15 figures, which are read exactly as `Number` reads them; `notPlain` otherwise. */
function plainFigure(bytes: Uint8Array, from: number, to: number): number {
  if (to - from > 16) return notPlain;
  let whole = 0;
  let point = -1;
  for (let at = from; at < to; at++) {
    const byte = bytes[at]!;
    if (byte >= zero && byte <= nine) whole = whole * 10 + (byte - zero);
    else if (byte === 0x2e && point < 0 && at > from && at < to - 1) point = at;
    else return notPlain;
  }
  if (point < 0) return to - from > 15 ? notPlain : whole;
  return whole / powers[to - point - 1]!;
}

/**
 * Reads the plain lines of a CSV log straight from its bytes: times with an offset, or in the site's zone away from a clock
 * change, figures of digits, no quotation marks, no events. Any other line is refused and goes the usual way, with the same outcome.
 */
export class PlainRows {
  private readonly places: Record<LogColumn, number>;
  private readonly starts: Int32Array;
  private readonly outlets = new ByteNames<string>((text) => text);
  private readonly receptacles = new ByteNames<string | null>(receptacleName);
  private readonly tags = new ByteNames<string>((text) => text);
  private readonly zones = new Map<string, string | null>();
  /** Whether the last time read had no offset. */
  private isLocal = false;
  private yearBytes = -1;
  private monthBytes = -1;
  private dayBytes = -1;
  private dayMs = 0;

  constructor(
    header: readonly string[],
    private readonly zoneOfOutlet: (outlet: string) => string | null | undefined,
  ) {
    this.places = logColumnPlaces(header);
    this.starts = new Int32Array(header.length + 1);
  }

  /** Whether the header has what a plain line needs, each column once. */
  get isUsable(): boolean {
    const used = logColumns.map((column) => this.places[column]).filter((place) => place >= 0);
    return this.places.at >= 0 && this.places.outlet >= 0 && new Set(used).size === used.length;
  }

  /** The reading of the line from `from` to before `to` (without its end); null when the line is not plain. */
  read(bytes: Uint8Array, from: number, to: number): Reading | null {
    if (!this.cut(bytes, from, to)) return null;
    const { places } = this;
    if (!this.isEmpty(places.event) || !this.isEmpty(places.cause)) return null;
    const writtenMs = this.time(bytes, this.starts[places.at]!, this.end(places.at));
    const watts = this.figure(bytes, places.watts);
    const amps = this.figure(bytes, places.amps);
    const volts = this.figure(bytes, places.volts);
    const powerFactor = this.figure(bytes, places.power_factor);
    if (Number.isNaN(writtenMs) || watts === notPlain || amps === notPlain || volts === notPlain || powerFactor === notPlain) return null;
    if (this.isEmpty(places.outlet) || !this.isTrimmed(bytes, places.outlet) || !this.isTrimmed(bytes, places.tag)) return null;
    const outlet = this.outlets.get(bytes, this.starts[places.outlet]!, this.end(places.outlet));
    const atMs = this.isLocal ? this.localInstant(outlet, writtenMs) : writtenMs;
    if (Number.isNaN(atMs)) return null;
    return {
      atMs,
      outlet,
      receptacle: this.isEmpty(places.receptacle)
        ? null
        : this.receptacles.get(bytes, this.starts[places.receptacle]!, this.end(places.receptacle)),
      tag: this.isEmpty(places.tag) ? null : this.tags.get(bytes, this.starts[places.tag]!, this.end(places.tag)),
      watts,
      amps,
      volts,
      powerFactor,
      event: null,
      cause: null,
    };
  }

  /** The instant of a wall clock at an outlet; NaN where it takes a closer look. */
  private localInstant(outlet: string, wallMs: number): number {
    let zone = this.zones.get(outlet);
    if (zone === undefined) {
      const named = this.zoneOfOutlet(outlet) ?? null;
      zone = named !== null && isTimeZone(named) ? named : null;
      if (this.zones.size < 100_000) this.zones.set(outlet, zone);
    }
    const offset = zone === null ? null : usualOffset(zone, wallMs);
    return offset === null ? Number.NaN : wallMs - offset;
  }

  /** Marks where the cells begin; false unless there are as many as headers and every byte is plain ASCII. */
  private cut(bytes: Uint8Array, from: number, to: number): boolean {
    const { starts } = this;
    const cells = starts.length - 1;
    let cell = 0;
    starts[0] = from;
    for (let at = from; at < to; at++) {
      const byte = bytes[at]!;
      if (byte === comma) {
        if (++cell >= cells) return false;
        starts[cell] = at + 1;
      } else if (byte >= 0x7f || byte < space || byte === 0x22) return false;
    }
    starts[cells] = to + 1;
    return cell === cells - 1;
  }

  private end(place: number): number {
    return this.starts[place + 1]! - 1;
  }

  private isEmpty(place: number): boolean {
    return place < 0 || this.end(place) === this.starts[place];
  }

  private isTrimmed(bytes: Uint8Array, place: number): boolean {
    return this.isEmpty(place) || (bytes[this.starts[place]!] !== space && bytes[this.end(place) - 1] !== space);
  }

  private figure(bytes: Uint8Array, place: number): number | null {
    return this.isEmpty(place) ? null : plainFigure(bytes, this.starts[place]!, this.end(place));
  }

  /** `2026-03-01T14:05:09`, `.250` at most in ms, then `Z`, `-05:00` or nothing. NaN when it is written otherwise. */
  private time(bytes: Uint8Array, from: number, to: number): number {
    if (to - from < 19) return Number.NaN;
    const joined = bytes[from + 10] === 0x54 || bytes[from + 10] === space;
    const hour = twoDigits(bytes, from + 11);
    const minute = twoDigits(bytes, from + 14);
    const second = twoDigits(bytes, from + 17);
    if (!joined || bytes[from + 13] !== 0x3a || bytes[from + 16] !== 0x3a || !(hour < 24 && minute < 60 && second < 60)) return Number.NaN;
    let at = from + 19;
    let fraction = 0;
    if (bytes[at] === 0x2e) {
      const tens = twoDigits(bytes, at + 1);
      const ones = bytes[at + 3]! - zero;
      if (!(ones >= 0 && ones <= 9)) return Number.NaN;
      fraction = tens * 10 + ones;
      at += 4;
    }
    return this.day(bytes, from) + hour * 3_600_000 + minute * 60_000 + second * 1000 + fraction - this.offset(bytes, at, to);
  }

  private offset(bytes: Uint8Array, at: number, to: number): number {
    this.isLocal = at === to;
    if (this.isLocal) return 0;
    if (at === to - 1 && bytes[at] === 0x5a) return 0;
    const sign = bytes[at] === 0x2b ? 1 : bytes[at] === 0x2d ? -1 : Number.NaN;
    const [hours, minutes] = [twoDigits(bytes, at + 1), twoDigits(bytes, at + 4)];
    if (to - at !== 6 || bytes[at + 3] !== 0x3a || !(hours <= 15 && minutes < 60)) return Number.NaN;
    return sign * (hours * 60 + minutes) * 60_000;
  }

  /** Midnight of the day; the bytes of the last one are remembered. NaN for a day that does not exist. */
  private day(bytes: Uint8Array, from: number): number {
    const year = fourBytes(bytes, from);
    const month = fourBytes(bytes, from + 4);
    const day = (bytes[from + 8]! << 8) | bytes[from + 9]!;
    if (year === this.yearBytes && month === this.monthBytes && day === this.dayBytes) return this.dayMs;
    this.yearBytes = year;
    this.monthBytes = month;
    this.dayBytes = day;
    this.dayMs = readDay(bytes, from);
    return this.dayMs;
  }
}
