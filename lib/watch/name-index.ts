function hashOf(key: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < key.length; at++) hash = Math.imul(hash ^ key.charCodeAt(at), 0x01000193);
  return (hash ^ (hash >>> 15)) >>> 0;
}

/**
 * Numbers found by the names that they have anyway: numbers only in an open table, some ten bytes for each where a map of names takes
 * near a hundred.
 */
export class NameIndex {
  private slots = new Int32Array(16).fill(-1);
  private count = 0;

  /** `keyOf` gives the name of a number that was put in. */
  constructor(private readonly keyOf: (number: number) => string) {}

  private slotOf(key: string): number {
    const mask = this.slots.length - 1;
    let slot = hashOf(key) & mask;
    for (let at = this.slots[slot]!; at >= 0; at = this.slots[slot]!) {
      if (this.keyOf(at) === key) return slot;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  /** The number of a name; -1 when there is none. */
  find(key: string): number {
    return this.slots[this.slotOf(key)]!;
  }

  /** Puts a number in under its name; of two with one name the later one is found. */
  put(number: number): void {
    if (this.count * 4 >= this.slots.length * 3) this.grow();
    const slot = this.slotOf(this.keyOf(number));
    if (this.slots[slot]! < 0) this.count++;
    this.slots[slot] = number;
  }

  private grow(): void {
    const before = this.slots;
    this.slots = new Int32Array(before.length * 2).fill(-1);
    this.count = 0;
    for (const number of before) if (number >= 0) this.put(number);
  }
}
