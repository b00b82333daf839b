import type { Arrivals } from "@/lib/registry/readings-batch";
import { isGoneOwner, turnOwner } from "@/lib/registry/site-turn";
import { findSites } from "@/lib/store/arrival-queries";
import type { Store } from "@/lib/store/client";
import { dropLease, findLeases, type HeldLease, takeLease } from "@/lib/store/lease-queries";
import { type BrokerAddress, BrokerPartition } from "./broker-partition";
import { partitionOf, partitions, siteTopic } from "./broker-topic";

/** A worker that gives no sign of life for this long has its partitions taken over. */
const leaseMs = 15_000;

export interface SharingOptions {
  readonly arrivals: Arrivals;
  readonly address: BrokerAddress;
  readonly clock: () => Date;
  /** How often turns are renewed, shared anew, and new sites looked for. */
  readonly everyMs: number;
  readonly onTrouble: (sentence: string) => void;
  /** Who this worker is among those who share; one a process unless told otherwise. */
  readonly owner?: string;
}

interface Held {
  readonly lease: HeldLease;
  readonly partition: BrokerPartition;
}

const prefix = "broker ";
const leaseName = (number: number) => `${prefix}${String(number).padStart(2, "0")}`;

/**
 * Shares the partitions of the broker's topics among all workers that are alive: each holds its even share by leases in the
 * database, takes over what a dead worker held, and gives back what is too much when another one joins.
 */
export class BrokerSharing {
  private readonly held = new Map<number, Held>();
  private timer: NodeJS.Timeout | null = null;
  private busy: Promise<void> | null = null;
  private readonly owner: string;

  constructor(
    private readonly db: Store,
    private readonly options: SharingOptions,
  ) {
    this.owner = options.owner ?? turnOwner;
  }

  /** The numbers of the partitions held now. */
  get numbers(): number[] {
    return [...this.held.keys()].sort((a, b) => a - b);
  }

  start(): void {
    this.timer ??= setInterval(() => void this.share(), this.options.everyMs).unref();
    void this.share();
  }

  /** Renews, gives back and takes turns once. */
  share(): Promise<void> {
    this.busy ??= this.round()
      .catch((error: unknown) => this.options.onTrouble(`The partitions could not be shared: ${(error as Error).message}`))
      .finally(() => {
        this.busy = null;
      });
    return this.busy;
  }

  async stop(): Promise<void> {
    if (this.timer) clearInterval(this.timer);
    this.timer = null;
    await this.busy;
    await Promise.all(this.numbers.map((number) => this.giveBack(number)));
    await this.leave();
  }

  private wish(name: string) {
    const now = this.options.clock();
    return { name, owner: this.owner, now, until: new Date(now.getTime() + leaseMs), isGone: isGoneOwner };
  }

  private async round(): Promise<void> {
    await takeLease(this.db, this.wish(`${prefix}worker ${this.owner}`));
    for (const number of this.numbers) await this.renew(number);
    const share = await this.shareOfEach();
    for (const number of this.numbers.slice(share)) await this.giveBack(number);
    for (let number = 0; number < partitions && this.held.size < share; number++) if (!this.held.has(number)) await this.tryTake(number);
    await this.watchSites();
  }

  /** How many partitions each of the living workers has at most; one that was killed on this machine counts no longer. */
  private async shareOfEach(): Promise<number> {
    const now = this.options.clock();
    const workers = (await findLeases(this.db, `${prefix}worker `)).filter(({ owner, until }) => until >= now && !isGoneOwner(owner));
    return Math.ceil(partitions / Math.max(1, workers.length));
  }

  private async renew(number: number): Promise<void> {
    const before = this.held.get(number);
    const lease = await takeLease(this.db, this.wish(leaseName(number)));
    if (before && lease?.fence !== before.lease.fence) await this.lose(number);
  }

  private async tryTake(number: number): Promise<void> {
    const lease = await takeLease(this.db, this.wish(leaseName(number)));
    if (lease === null) return;
    const { arrivals, address, clock, onTrouble } = this.options;
    const onEnd = (error: unknown) => {
      onTrouble(`Partition ${number} ended: ${error instanceof Error ? error.message : String(error)}`);
      void this.lose(number);
    };
    this.held.set(number, {
      lease,
      partition: new BrokerPartition({ db: this.db, arrivals, address, number, lease, clock, onEnd, onTrouble }),
    });
  }

  /** Subscribes each partition held to the topics of its sites. */
  private async watchSites(): Promise<void> {
    const topics = new Map<number, Set<string>>(this.numbers.map((number) => [number, new Set()]));
    for (const site of await findSites(this.db, null)) topics.get(partitionOf(site.id))?.add(siteTopic(this.options.address.topic, site));
    for (const [number, wanted] of topics)
      await this.held
        .get(number)
        ?.partition.watch(wanted)
        .catch((error: Error) => this.options.onTrouble(`The broker: ${error.message}`));
  }

  private async lose(number: number): Promise<void> {
    const held = this.held.get(number);
    this.held.delete(number);
    await held?.partition.end();
  }

  private async giveBack(number: number): Promise<void> {
    const held = this.held.get(number);
    await this.lose(number);
    if (held) await dropLease(this.db, held.lease);
  }

  /** The others share anew at once. */
  private async leave(): Promise<void> {
    const lease = (await findLeases(this.db, `${prefix}worker ${this.owner}`))[0];
    if (lease) await dropLease(this.db, lease);
  }
}
