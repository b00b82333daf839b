interface Entry<Value> {
  readonly bytes: Uint8Array;
  readonly value: Value;
  readonly next: Entry<Value> | null;
}

function sameBytes(bytes: Uint8Array, from: number, name: Uint8Array): boolean {
  for (let at = 0; at < name.length; at++) if (bytes[from + at] !== name[at]) return false;
  return true;
}

/**
 * The values of names that come again and again as bytes, without making a text of them each time. Holds `most` names; more
 * are read anew each time.
 */
export class ByteNames<Value> {
  private readonly slots: (Entry<Value> | null)[] = new Array<Entry<Value> | null>(4096).fill(null);
  private count = 0;

  constructor(
    private readonly read: (text: string) => Value,
    private readonly most = 100_000,
  ) {}

  /** The value of the bytes from `from` to before `to`, which are UTF-8. */
  get(bytes: Uint8Array, from: number, to: number): Value {
    let hash = to - from;
    for (let at = from; at < to; at++) hash = (Math.imul(hash, 31) + bytes[at]!) | 0;
    const slot = (hash ^ (hash >>> 12)) & 4095;
    for (let entry = this.slots[slot]!; entry !== null; entry = entry.next!) {
      if (entry.bytes.length === to - from && sameBytes(bytes, from, entry.bytes)) return entry.value;
    }
    return this.add(bytes.slice(from, to), slot);
  }

  private add(name: Uint8Array, slot: number): Value {
    const value = this.read(new TextDecoder().decode(name));
    if (this.count < this.most) {
      this.count++;
      this.slots[slot] = { bytes: name, value, next: this.slots[slot]! };
    }
    return value;
  }
}
