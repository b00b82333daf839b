/** Version of the kept state's layout; a state of another version is refused. */
export const stateVersion = 6;

const magic = 0x50_57_53_53;
const headerBytes = 16;

/** A kept state that cannot be gone on from; the message is one sentence for a person. */
export class UnreadableState extends Error {}

/**
 * Carries a state out of running objects or back into them: every value is handed in and the value to go on with is given back, so
 * that one list of fields serves both ways and they cannot part.
 */
export interface StateCarrier {
  /** True when values are read back. */
  readonly isReading: boolean;
  /** Any number, also NaN and the infinities, exactly. */
  number(value: number): number;
  maybe(value: number | null): number | null;
  /** Kept by code units, so that no text changes on the way. */
  text(value: string | null): string | null;
  flag(value: boolean): boolean;
  /** The bytes of a column from `from` to before `to`. */
  bytes(column: Uint8Array, from: number, to: number): void;
  /** A part with its length, so that what is not known any more (null) is passed over when read back, and what was not yet known then too. */
  part(carry: ((state: StateCarrier) => void) | null): void;
}

/** FNV-1a over bytes, 32 bits: tells a damaged state, not a forged one. */
function checksum(bytes: Uint8Array): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < bytes.length; at++) hash = Math.imul(hash ^ bytes[at]!, 0x01000193);
  return hash >>> 0;
}

/** Writes a state. */
export class StateWriter implements StateCarrier {
  readonly isReading = false;
  private buffer = new Uint8Array(4096);
  private view = new DataView(this.buffer.buffer);
  private at = headerBytes;

  private room(length: number): void {
    if (this.at + length <= this.buffer.length) return;
    const larger = new Uint8Array(Math.max(this.buffer.length * 2, this.at + length));
    larger.set(this.buffer);
    this.buffer = larger;
    this.view = new DataView(larger.buffer);
  }

  number(value: number): number {
    this.room(8);
    this.view.setFloat64(this.at, value, true);
    this.at += 8;
    return value;
  }

  flag(value: boolean): boolean {
    this.room(1);
    this.buffer[this.at++] = value ? 1 : 0;
    return value;
  }

  maybe(value: number | null): number | null {
    this.flag(value !== null);
    return value === null ? null : this.number(value);
  }

  text(value: string | null): string | null {
    const length = value?.length ?? 0;
    this.room(4 + 2 * length);
    this.view.setInt32(this.at, value === null ? -1 : length, true);
    this.at += 4;
    for (let unit = 0; unit < length; unit++, this.at += 2) this.view.setUint16(this.at, value!.charCodeAt(unit), true);
    return value;
  }

  bytes(column: Uint8Array, from: number, to: number): void {
    this.room(to - from);
    this.buffer.set(column.subarray(from, to), this.at);
    this.at += to - from;
  }

  part(carry: ((state: StateCarrier) => void) | null): void {
    this.room(4);
    const from = this.at;
    this.at += 4;
    carry?.(this);
    this.view.setUint32(from, this.at - from - 4, true);
  }

  /** The whole state with its header: a mark, the version, the length and a checksum. */
  finish(): Uint8Array {
    const whole = this.buffer.slice(0, this.at);
    const view = new DataView(whole.buffer);
    view.setUint32(0, magic);
    view.setUint32(4, stateVersion, true);
    view.setUint32(8, this.at - headerBytes, true);
    view.setUint32(12, checksum(whole.subarray(headerBytes)), true);
    return whole;
  }
}

/** Reads a state back. Throws `UnreadableState` for bytes that are none, of another version, or damaged. */
export class StateReader implements StateCarrier {
  readonly isReading = true;
  private readonly view: DataView;
  private at = headerBytes;

  constructor(private readonly whole: Uint8Array) {
    this.view = new DataView(whole.buffer, whole.byteOffset, whole.byteLength);
    if (whole.length < headerBytes || this.view.getUint32(0) !== magic)
      throw new UnreadableState("These bytes are no kept screening state: screen the log from its beginning.");
    const version = this.view.getUint32(4, true);
    if (version !== stateVersion) {
      throw new UnreadableState(
        `The screening state was kept in layout ${version}, and this program knows layout ${stateVersion} only: screen the log from its beginning.`,
      );
    }
    const body = whole.subarray(headerBytes);
    if (body.length !== this.view.getUint32(8, true) || checksum(body) !== this.view.getUint32(12, true))
      throw new UnreadableState("The kept screening state is damaged: screen the log from its beginning.");
  }

  number(_value: number): number {
    this.at += 8;
    return this.view.getFloat64(this.at - 8, true);
  }

  flag(_value: boolean): boolean {
    return this.whole[this.at++] === 1;
  }

  maybe(_value: number | null): number | null {
    return this.flag(false) ? this.number(0) : null;
  }

  bytes(column: Uint8Array, from: number, to: number): void {
    column.set(this.whole.subarray(this.at, this.at + to - from), from);
    this.at += to - from;
  }

  part(carry: ((state: StateCarrier) => void) | null): void {
    const end = this.at + 4 + this.view.getUint32(this.at, true);
    this.at += 4;
    if (end > this.at) carry?.(this);
    this.at = end;
  }

  text(_value: string | null): string | null {
    const length = this.view.getInt32(this.at, true);
    this.at += 4;
    if (length < 0) return null;
    let text = "";
    for (let unit = 0; unit < length; unit++, this.at += 2) text += String.fromCharCode(this.view.getUint16(this.at, true));
    return text;
  }
}

/** Carries things that have a name, each as a part: what is not there any more is passed over, what is new stays as it is. */
export function carryNamed(state: StateCarrier, items: ReadonlyMap<string, { carry(state: StateCarrier): void }>): void {
  const names = [...items.keys()];
  const count = state.number(names.length);
  for (let at = 0; at < count; at++) {
    const item = items.get(state.text(names[at] ?? "") ?? "");
    state.part(item === undefined ? null : (part) => item.carry(part));
  }
}

/** Carries a list: as many items as there are, each by `carry`, which is handed null for an item that is to be made. */
export function carryList<Item, Carried>(state: StateCarrier, items: readonly Item[], carry: (item: Item | null) => Carried): Carried[] {
  const count = state.number(items.length);
  return Array.from({ length: count }, (_, at) => carry(state.isReading ? null : items[at]!));
}
