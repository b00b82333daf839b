import type { Store } from "@/lib/store/client";
import type { ArrivalAnswer, ArrivalBatch } from "./arrival-batch";
import { type Committed, commitArrivals } from "./arrival-commit";
import { RecentReadings } from "./recent-readings";

/** The process has more waiting than it may: send again a little later. */
export class TooBusy extends Error {
  override readonly name = "TooBusy";
  readonly retryAfterSeconds = 2;

  /** `isSender`: it is this sender that has too much waiting, not the process as a whole. */
  constructor(readonly isSender: boolean) {
    super(
      isSender
        ? "This sender has more batches waiting here than it may: wait for their answers, then send this one again."
        : "More readings are waiting here than can be taken: send the batch again in a few seconds.",
    );
  }
}

/** The batch's name was used before for other bytes. */
export class BatchConflict extends Error {
  override readonly name = "BatchConflict";
}

interface Waiting {
  readonly batch: ArrivalBatch;
  readonly resolve: (answer: ArrivalAnswer) => void;
  readonly reject: (error: unknown) => void;
}

export interface QueueLimits {
  /** Batches and rows that may wait in this process. */
  readonly mostBatches: number;
  readonly mostRows: number;
  /** Batches of one source that may wait. */
  readonly mostOfSource: number;
  /** Rows that one transaction takes; a single larger batch goes alone. */
  readonly rowsAtOnce: number;
}

export const queueLimits: QueueLimits = { mostBatches: 1_000, mostRows: 500_000, mostOfSource: 200, rowsAtOnce: 50_000 };

/**
 * The batches that wait to be kept in this process. While one transaction runs, others gather and share the next one. The queue is
 * bounded: a sender that finds it full is told to come again, and nothing of its batch was taken.
 */
export class ArrivalQueue {
  private waiting: Waiting[] = [];
  private rows = 0;
  private readonly bySource = new Map<string, number>();
  private draining: Promise<void> | null = null;
  private readonly recent = new RecentReadings();

  constructor(
    private readonly db: Store,
    private readonly options: { readonly limits?: QueueLimits; readonly onKept?: (siteIds: ReadonlySet<string>) => void } = {},
  ) {}

  private get limits(): QueueLimits {
    return this.options.limits ?? queueLimits;
  }

  /** Throws `TooBusy` when nothing more of this source is taken now. Ask before a body is read. */
  requireRoom(source: string): void {
    if (this.waiting.length >= this.limits.mostBatches || this.rows >= this.limits.mostRows) throw new TooBusy(false);
    if ((this.bySource.get(source) ?? 0) >= this.limits.mostOfSource) throw new TooBusy(true);
  }

  private weigh({ batch }: Waiting, sign: 1 | -1): void {
    const { name } = batch.source;
    this.rows += sign * batch.rows.readings.length;
    const count = (this.bySource.get(name) ?? 0) + sign;
    if (count === 0) this.bySource.delete(name);
    else this.bySource.set(name, count);
  }

  /** Resolves with the answer once the batch's transaction has ended. */
  offer(batch: ArrivalBatch): Promise<ArrivalAnswer> {
    this.requireRoom(batch.source.name);
    return new Promise((resolve, reject) => {
      const one = { batch, resolve, reject };
      this.waiting.push(one);
      this.weigh(one, 1);
      this.draining ??= this.drain().finally(() => {
        this.draining = null;
      });
    });
  }

  /** Resolves when nothing waits any more. */
  async idle(): Promise<void> {
    await this.draining;
  }

  private takeGroup(): Waiting[] {
    let rows = 0;
    let count = 0;
    for (const { batch } of this.waiting) {
      if (count > 0 && rows + batch.rows.readings.length > this.limits.rowsAtOnce) break;
      rows += batch.rows.readings.length;
      count += 1;
    }
    return this.waiting.splice(0, count);
  }

  private async drain(): Promise<void> {
    // What arrived in the same turn of the loop goes together.
    await new Promise<void>((resolve) => setImmediate(resolve));
    while (this.waiting.length > 0) {
      const group = this.takeGroup();
      await this.keep(group);
      for (const one of group) this.weigh(one, -1);
    }
  }

  /** One that fails must not take its neighbours with it: a group that failed is tried one by one. */
  private async keep(group: readonly Waiting[]): Promise<void> {
    try {
      const committed = await commitArrivals(
        this.db,
        this.recent,
        group.map(({ batch }) => batch),
      );
      for (const [at, one] of group.entries()) settle(one, committed[at]);
      this.options.onKept?.(new Set(group.map(({ batch }) => batch.source.siteId)));
    } catch (error) {
      const [only] = group;
      if (group.length === 1 && only) only.reject(error);
      else for (const one of group) await this.keep([one]);
    }
  }
}

function settle({ resolve, reject }: Waiting, committed: Committed | undefined): void {
  if (!committed) reject(new Error("A batch was left without an answer."));
  else if ("answer" in committed) resolve(committed.answer);
  else reject(new BatchConflict("This batch name was used before for other content: give each batch a name of its own."));
}
