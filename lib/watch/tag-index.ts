import { tagKey } from "@/lib/identity/tag-code";
import type { ScreenedAppliance } from "./screened-appliance";

function hashOf(key: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < key.length; at++) hash = Math.imul(hash ^ key.charCodeAt(at), 0x01000193);
  return (hash ^ (hash >>> 15)) >>> 0;
}

/**
 * The appliance of each tag, found by the tag's key: numbers only in an open table, some ten bytes for each where a map of keys takes
 * near a hundred.
 */
export class TagIndex {
  private slots = new Int32Array(16).fill(-1);
  private count = 0;

  /** `appliances` by number are those that are put in. */
  constructor(private readonly appliances: readonly ScreenedAppliance[]) {}

  private slotOf(key: string): number {
    const mask = this.slots.length - 1;
    let slot = hashOf(key) & mask;
    for (let at = this.slots[slot]!; at >= 0; at = this.slots[slot]!) {
      if (tagKey(this.appliances[at]!.tag) === key) return slot;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  /** The appliance of a tag's text; -1 when there is none. */
  find(tag: string): number {
    return this.slots[this.slotOf(tagKey(tag))]!;
  }

  /** Puts an appliance in under its tag; of two with one tag the later one is found. */
  put(appliance: number): void {
    if (this.count * 4 >= this.slots.length * 3) this.grow();
    const slot = this.slotOf(tagKey(this.appliances[appliance]!.tag));
    if (this.slots[slot]! < 0) this.count++;
    this.slots[slot] = appliance;
  }

  private grow(): void {
    const before = this.slots;
    this.slots = new Int32Array(before.length * 2).fill(-1);
    this.count = 0;
    for (const appliance of before) if (appliance >= 0) this.put(appliance);
  }
}
