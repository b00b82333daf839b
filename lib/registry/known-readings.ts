import type { Db } from "@/lib/store/client";
import { againIfMerged, findKeptParts, type KeptReading, openKeptPart, readingKey } from "@/lib/store/kept-log-queries";

const hourMs = 3_600_000;
const keysInMemory = 600_000;
const partsInMemory = 6;

/**
 * Tells which readings are kept already, hour by hour, so that an overlap of any length needs little memory. An hour is fetched when
 * its first row comes and forgotten when others need the room; rows that are not stored yet must be stored before that, see `isFull`.
 */
export class KnownReadings {
  private readonly hours = new Map<number, Set<string>>();
  private readonly parts = new Map<string, KeptReading[]>();
  private keys = 0;

  constructor(
    private readonly db: Db,
    private readonly organisationId: string,
  ) {}

  /** Whether hours must be forgotten before another is fetched. */
  get isFull(): boolean {
    return this.keys > keysInMemory && this.hours.size > 1;
  }

  /** Forgets everything; what was noted must be stored by now. */
  forget(): void {
    this.hours.clear();
    this.keys = 0;
  }

  isOpen(atMs: number): boolean {
    return this.hours.has(Math.floor(atMs / hourMs));
  }

  /** Fetches what is kept of the hour of an instant. */
  async open(atMs: number): Promise<void> {
    const hour = Math.floor(atMs / hourMs);
    const known = await againIfMerged(() => this.keysOf(hour));
    this.hours.set(hour, known);
    this.keys += known.size;
  }

  private async keysOf(hour: number): Promise<Set<string>> {
    const known = new Set<string>();
    const [from, to] = [new Date(hour * hourMs), new Date((hour + 1) * hourMs - 1)];
    for (const { id } of await findKeptParts(this.db, { organisationId: this.organisationId, from, to }))
      for (const row of await this.openPart(id)) if (Math.floor(row.atMs / hourMs) === hour) known.add(readingKey(row));
    return known;
  }

  private async openPart(id: string): Promise<KeptReading[]> {
    const known = this.parts.get(id);
    if (known) return known;
    const rows = await openKeptPart(this.db, id);
    const oldest = this.parts.keys().next();
    if (this.parts.size >= partsInMemory && !oldest.done) this.parts.delete(oldest.value);
    this.parts.set(id, rows);
    return rows;
  }

  /** Notes a reading of an open hour; false when it is kept or noted already. */
  note(row: KeptReading): boolean {
    const known = this.hours.get(Math.floor(row.atMs / hourMs));
    if (!known) throw new Error("The hour of a reading was not opened before it was noted.");
    const key = readingKey(row);
    if (known.has(key)) return false;
    known.add(key);
    this.keys += 1;
    return true;
  }
}
