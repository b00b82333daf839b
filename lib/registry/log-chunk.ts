import type { Db } from "@/lib/store/client";
import type { SetAsideDraft } from "@/lib/store/import-queries";
import type { KeptReading } from "@/lib/store/kept-log-queries";
import type { LogRowReader } from "@/lib/watch/log-rows";
import type { Reading } from "@/lib/watch/reading";
import { setAsideReasons } from "@/lib/watch/set-aside";
import { arrivalReasons } from "./arrival-rows";
import { type ImportCounts, noRows } from "./import-account";
import { KnownReadings } from "./known-readings";
import type { LogLine } from "./log-lines";
import type { LogPlan } from "./log-plan";

/** What a stretch of a log's rows leaves to be stored together. */
export interface LogChunk {
  readonly counts: ImportCounts;
  readonly kept: readonly KeptReading[];
  readonly setAside: readonly SetAsideDraft[];
}

interface Told {
  readonly line: LogLine;
  readonly reading: Reading | null;
  readonly reason: string;
}

/** Rows stored in one transaction. */
const rowsAtOnce = 20_000;

/** Takes a log's rows one by one: tells new readings from kept ones, and gathers what is to be stored. */
export class LogChunks {
  private counts = { ...noRows };
  private kept: KeptReading[] = [];
  private setAside: SetAsideDraft[] = [];
  private readonly known: KnownReadings;
  /** Rows whose local time came twice in the night of a clock change. */
  ambiguous = 0;

  constructor(
    db: Db,
    organisationId: string,
    private readonly plan: LogPlan,
    private readonly read: LogRowReader,
    private readonly store: (chunk: LogChunk) => Promise<void>,
    /** From when on a site's readings are kept one by one, milliseconds; null where all are. */
    private readonly rawFrom: (siteId: string) => number | null = () => null,
  ) {
    this.known = new KnownReadings(db, organisationId);
  }

  async take(lines: readonly LogLine[]): Promise<void> {
    for (const line of lines) {
      const one = this.tell(line);
      if (one.reading !== null && !this.known.isOpen(one.reading.atMs)) await this.openHour(one.reading.atMs);
      this.account(one);
      if (this.counts.rowsRead >= rowsAtOnce) await this.flush();
    }
  }

  private tell(line: LogLine): Told {
    if (line.problem !== null) return { line, reading: null, reason: line.problem };
    const row = this.read(line.row);
    if ("setAside" in row) return { line, reading: null, reason: row.setAside };
    if (row.ambiguousHour) this.ambiguous += 1;
    const outlet = this.plan.find(row.reading.outlet);
    if (outlet === undefined) return { line, reading: null, reason: setAsideReasons.unknown_outlet };
    const isOld = row.reading.atMs < (this.rawFrom(outlet.siteId) ?? Number.NEGATIVE_INFINITY);
    return isOld ? { line, reading: null, reason: arrivalReasons.too_old } : { line, reading: row.reading, reason: "" };
  }

  private async openHour(atMs: number): Promise<void> {
    if (this.known.isFull) {
      await this.flush();
      this.known.forget();
    }
    await this.known.open(atMs);
  }

  private account({ line, reading, reason }: Told): void {
    const outlet = reading === null ? undefined : this.plan.find(reading.outlet);
    const name = reading === null || !outlet ? "setAside" : this.keep(reading, outlet) ? "created" : "unchanged";
    if (name === "setAside") this.setAside.push({ line: line.line, reason, content: line.content });
    this.counts = { ...this.counts, rowsRead: this.counts.rowsRead + 1, [name]: this.counts[name] + 1 };
  }

  /** Gathers a reading unless it is kept already. */
  private keep(reading: Reading, outlet: { readonly id: string }): boolean {
    const { outlet: _, ...measures } = reading;
    const row: KeptReading = { ...measures, outletId: outlet.id };
    if (!this.known.note(row)) return false;
    this.kept.push(row);
    return true;
  }

  private async flush(): Promise<void> {
    const { counts, kept, setAside } = this;
    if (counts.rowsRead === 0) return;
    await this.store({ counts, kept, setAside });
    this.counts = { ...noRows };
    [this.kept, this.setAside] = [[], []];
  }

  /** Stores the rest, at the end of the log. */
  async finish(): Promise<void> {
    await this.flush();
  }
}
