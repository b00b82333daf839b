import { createHash } from "node:crypto";
import mqtt, { type IPublishPacket, type MqttClient } from "mqtt";
import { Trouble } from "@/lib/access/trouble";
import { brokerSource } from "@/lib/registry/arrival-batch";
import { TooBusy } from "@/lib/registry/arrival-queue";
import { type Arrivals, noteRefused, takeBatch } from "@/lib/registry/readings-batch";
import type { Store } from "@/lib/store/client";
import { type HeldLease, LeaseLost } from "@/lib/store/lease-queries";
import { readTopic } from "./broker-topic";

/** The broker and how to sign in there. */
export interface BrokerAddress {
  readonly url: string;
  readonly username?: string | undefined;
  readonly password?: string | undefined;
  /** What the topics begin with. */
  readonly topic: string;
}

export interface PartitionWork {
  readonly db: Store;
  readonly arrivals: Arrivals;
  readonly address: BrokerAddress;
  readonly number: number;
  readonly lease: HeldLease;
  readonly clock: () => Date;
  /** Told when the partition cannot go on: its turn was taken over, or a reading could not be kept. */
  readonly onEnd: (error: unknown) => void;
  readonly onTrouble: (sentence: string) => void;
}

const attempts = 5;
const pauseMs = 500;

/** The session's name at the broker: the same at whichever worker, so that what waits there for one worker reaches the next. */
function sessionName({ address, number }: Pick<PartitionWork, "address" | "number">): string {
  return `platewarden-${createHash("sha256").update(address.topic).digest("hex").slice(0, 8)}-${number}`;
}

/**
 * One partition's connection to the broker. Messages are taken one after the other and acknowledged once their readings are kept
 * for good; what is not acknowledged comes again, here or at the worker that takes the partition over. The broker ends the older of two
 * connections of one session, and the lease keeps an older worker from writing.
 */
export class BrokerPartition {
  private readonly client: MqttClient;
  private topics = new Set<string>();
  private ended = false;
  private working: Promise<void> = Promise.resolve();

  constructor(private readonly work: PartitionWork) {
    const { url, username, password } = work.address;
    const signIn = { ...(username ? { username } : {}), ...(password ? { password } : {}) };
    this.client = mqtt.connect(url, {
      ...signIn,
      clientId: sessionName(work),
      clean: false,
      reconnectPeriod: 2_000,
      connectTimeout: 10_000,
      resubscribe: true,
      manualConnect: true,
    });
    this.client.handleMessage = (packet, callback) => {
      this.working = this.take(packet).then(
        () => callback(),
        (error: unknown) => this.stopFor(error),
      );
    };
    this.client.on("error", (error) =>
      work.onTrouble(`The broker: ${error.message || (error as { code?: string }).code || "no connection"}.`),
    );
    this.client.connect();
  }

  /** Subscribes to the sites' topics and leaves those that are gone. */
  async watch(topics: ReadonlySet<string>): Promise<void> {
    const fresh = [...topics].filter((topic) => !this.topics.has(topic));
    const gone = [...this.topics].filter((topic) => !topics.has(topic));
    if (this.ended || fresh.length + gone.length === 0) return;
    if (fresh.length > 0) await this.client.subscribeAsync(fresh, { qos: 1 });
    if (gone.length > 0) await this.client.unsubscribeAsync(gone);
    this.topics = new Set(topics);
  }

  /** Ends what is in hand and closes the connection; the session stays at the broker for the next worker. */
  async end(): Promise<void> {
    this.ended = true;
    await this.working;
    await this.client.endAsync(true);
  }

  /** Without an acknowledgement: the message stays at the broker. */
  private stopFor(error: unknown): void {
    if (this.ended) return;
    this.ended = true;
    this.client.end(true);
    this.work.onEnd(error);
  }

  private async take(packet: IPublishPacket): Promise<void> {
    if (this.ended) throw new LeaseLost("The partition was ended.");
    for (let attempt = 1; ; attempt++) {
      try {
        return await this.takeOnce(packet);
      } catch (error) {
        if (error instanceof LeaseLost || this.ended) throw error;
        if (!(error instanceof TooBusy) && attempt >= attempts) throw error;
        await new Promise((resolve) => setTimeout(resolve, pauseMs * Math.min(attempt, 4)));
      }
    }
  }

  private async takeOnce({ topic, payload }: IPublishPacket): Promise<void> {
    const { db, arrivals, address, lease, clock, onTrouble } = this.work;
    const named = readTopic(address.topic, topic);
    const now = clock();
    const site = named === null ? null : await arrivals.outlets.site(named.organisationId, named.siteId, now);
    if (site === null) {
      onTrouble(`A message for a site that is not in use was left: ${topic.slice(0, 200)}.`);
      return;
    }
    const source = brokerSource(site);
    const bytes = typeof payload === "string" ? Buffer.from(payload) : payload;
    async function* body() {
      yield bytes;
    }
    try {
      await takeBatch(arrivals, { source, body: body(), batchId: null, now, lease });
    } catch (error) {
      // What cannot be read cannot be read the next time either: it is counted and told, not sent round for ever.
      if (!(error instanceof Trouble)) throw error;
      await noteRefused(db, source, { problem: error.message, at: now, lease });
      onTrouble(`A message of site ${site.name} was set aside: ${error.message}`);
    }
  }
}
