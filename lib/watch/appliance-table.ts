import { unreadRating } from "@/lib/electrical/unread-rating";
import { tagKey } from "@/lib/identity/tag-code";
import { longer, roomFor } from "./columns";
import { NameIndex } from "./name-index";
import { NumberedNames } from "./numbered-names";
import type { Row } from "./row";
import type { ScreenedAppliance } from "./screened-appliance";
import type { StateCarrier } from "./state-carrier";

/** The appliances of a screening by number: where each is, and when it was seen. Those of a log's unknown tags join. */
export class ApplianceTable {
  readonly screened: ScreenedAppliance[] = [];
  /** The tags of the log by number of their text, and the appliance of each. */
  readonly tags = new NumberedNames();
  private ofTag = new Int32Array(0);
  private readonly byTag = new NameIndex((appliance) => tagKey(this.screened[appliance]!.tag));
  /** The receptacle it is at, -1 for none, and the one where it was last. */
  receptacle = new Int32Array(0);
  lastReceptacle = new Int32Array(0);
  firstMs = new Float64Array(0);
  lastMs = new Float64Array(0);

  constructor(private readonly onGrow: (count: number) => void) {}

  get count(): number {
    return this.screened.length;
  }

  grow(count: number): void {
    this.receptacle = longer(this.receptacle, count, -1);
    this.lastReceptacle = longer(this.lastReceptacle, count, -1);
    this.firstMs = longer(this.firstMs, count, Number.POSITIVE_INFINITY);
    this.lastMs = longer(this.lastMs, count, Number.NEGATIVE_INFINITY);
    this.onGrow(count);
  }

  /** Adds an appliance; its number. Of two with one tag the later one answers to it. */
  add(screened: ScreenedAppliance): number {
    const number = this.screened.push(screened) - 1;
    if (number >= this.receptacle.length) this.grow(roomFor(number + 1, this.receptacle.length));
    if (screened.tag !== "") this.byTag.put(number);
    return number;
  }

  /** The appliance of a tag's text; -1 when there is none. */
  find(tag: string): number {
    return this.byTag.find(tagKey(tag));
  }

  /** The appliance of a tag's number; one that is not registered is followed too, but has no rating to be judged by. */
  ofTagNumber(tag: number): number {
    if (tag >= this.ofTag.length) this.ofTag = longer(this.ofTag, roomFor(tag + 1, this.ofTag.length), -1);
    const known = this.ofTag[tag]!;
    if (known >= 0) return known;
    const found = this.findOrAdd(this.tags.texts[tag]!);
    this.ofTag[tag] = found;
    return found;
  }

  findOrAdd(tag: string): number {
    const known = this.find(tag);
    if (known >= 0) return known;
    return this.add({ tag, site: null, outlet: null, receptacle: null, category: null, rating: unreadRating });
  }

  /** A row of it was judged. */
  see(appliance: number, row: Row): void {
    const { atMs } = row;
    const lastMs = this.lastMs[appliance]!;
    if (atMs <= lastMs) return;
    this.lastMs[appliance] = atMs;
    if (lastMs === Number.NEGATIVE_INFINITY) this.firstMs[appliance] = atMs;
  }

  /** Carries a tag's number by its text. */
  readonly carryTag = (state: StateCarrier, tag: number): number => {
    const text = state.text(tag < 0 || state.isReading ? null : this.tags.texts[tag]!);
    return text === null ? -1 : this.tags.numberOf(text);
  };
}
