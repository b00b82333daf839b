import mqtt, { type MqttClient } from "mqtt";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { BrokerSharing } from "@/lib/jobs/broker-sharing";
import { partitionOf, partitions, readTopic, requireTopic, siteTopic } from "@/lib/jobs/broker-topic";
import { findKeptParts, openKeptPart } from "@/lib/store/kept-log-queries";
import { makeOrganisation, makeSite } from "@/seed/builders";
import { makeArrivals } from "../support/arrivals";
import { startBroker } from "../support/broker";
import { eachDatabase, type FreshDatabase } from "../support/database";

const startMs = Date.parse("2026-03-09T12:00:00Z");
const soon = { timeout: 20_000, interval: 20 };

eachDatabase("Readings from a broker", (open) => {
  let fresh: FreshDatabase;
  let broker: Awaited<ReturnType<typeof startBroker>>;
  let device: MqttClient;
  let organisationId: string;
  let sites: { id: string; organisationId: string; outlet: { id: string; name: string } }[];
  let sharings: BrokerSharing[];
  let said: string[];
  let clockMs: number;

  beforeEach(async () => {
    fresh = await open();
    broker = await startBroker();
    device = await mqtt.connectAsync(broker.url);
    ({ id: organisationId } = await makeOrganisation(fresh.db));
    sites = [];
    for (const name of ["Alder", "Birch", "Cedar", "Dogwood"]) {
      const { site, outlets } = await makeSite(fresh.db, organisationId, name);
      sites.push({ id: site.id, organisationId, outlet: outlets[0]! });
    }
    sharings = [];
    said = [];
    clockMs = Date.parse("2026-03-10T10:00:00Z");
  });
  afterEach(async () => {
    for (const sharing of sharings) await sharing.stop();
    await device.endAsync(true);
    await broker.close();
    await fresh.close();
  });

  function worker(owner: string): BrokerSharing {
    const address = { url: broker.url, topic: "platewarden" };
    const options = { arrivals: makeArrivals(fresh.db), address, clock: () => new Date(clockMs), everyMs: 60_000, owner };
    const sharing = new BrokerSharing(fresh.db, { ...options, onTrouble: (sentence) => said.push(sentence) });
    sharings.push(sharing);
    return sharing;
  }

  const row = (site: { outlet: { name: string } }, second: number, more: object = {}) => ({
    at: new Date(startMs + second * 1000).toISOString(),
    outlet: site.outlet.name,
    receptacle: "1",
    watts: 100 + second,
    ...more,
  });
  const publish = (site: { id: string; organisationId: string }, payload: unknown) =>
    device.publishAsync(siteTopic("platewarden", site), typeof payload === "string" ? payload : JSON.stringify(payload), { qos: 1 });

  /** The seconds kept of each site, in the order in which they came. */
  async function kept(): Promise<number[][]> {
    return Promise.all(
      sites.map(async ({ id: siteId }) => {
        const parts = await fresh.db.keptLogPart.findMany({ where: { siteId }, orderBy: { arrival: "asc" }, select: { id: true } });
        const rows = await Promise.all(parts.map(({ id }) => openKeptPart(fresh.db, id)));
        return rows.flat().map(({ atMs }) => (atMs - startMs) / 1000);
      }),
    );
  }

  test("one reading, an array, JSON Lines and an envelope are kept, and acknowledged only then", async () => {
    await worker("one").share();
    const [alder, birch] = sites as [(typeof sites)[0], (typeof sites)[0]];
    await publish(alder, row(alder, 0));
    await publish(alder, [row(alder, 1), row(alder, 2)]);
    await publish(alder, `${JSON.stringify(row(alder, 3))}\n${JSON.stringify(row(alder, 4))}`);
    await publish(alder, { organisation: organisationId, site: alder.id, readings: [row(alder, 5)] });
    await publish(birch, row(birch, 0));
    await vi.waitFor(async () => expect(await kept()).toEqual([[0, 1, 2, 3, 4, 5], [0], [], []]), soon);
    await vi.waitFor(() => expect(broker.acknowledged()).toBe(5), soon);
    expect(await findKeptParts(fresh.db, { organisationId })).toHaveLength(5);
  });

  test("topic and payload must agree on organisation and site; what does not is counted and moves nothing", async () => {
    await worker("one").share();
    const [alder, birch] = sites as [(typeof sites)[0], (typeof sites)[0]];
    await publish(alder, { site: birch.id, readings: [row(alder, 0)] });
    await publish(alder, row(birch, 1));
    await publish(alder, row(alder, 2, { organisation: birch.id }));
    await publish(alder, { site: alder.id, readings: [row(alder, 3, { site: birch.id })] });
    await publish(alder, "{ this is no JSON");
    await publish(alder, "not a log");
    await device.publishAsync(siteTopic("platewarden", { organisationId: birch.id, id: alder.id }), JSON.stringify(row(alder, 9)), {
      qos: 1,
    });
    await publish(alder, row(alder, 4));
    await vi.waitFor(async () => expect((await kept())[0]).toEqual([4]), soon);
    const [day] = await fresh.db.arrivalDay.findMany();
    expect(day).toMatchObject({ siteId: alder.id, batches: 7, accepted: 1, setAside: 6 });
    expect(day?.problem).toMatch(/no outlet log/);
  });

  test("two workers share the partitions evenly; a third takes its share; one that leaves hands its over", async () => {
    const [one, two, three] = ["one", "two", "three"].map(worker) as [BrokerSharing, BrokerSharing, BrokerSharing];
    const round = async (...workers: BrokerSharing[]) => {
      for (let turn = 0; turn < 3; turn++) for (const sharing of workers) await sharing.share();
    };
    await round(one);
    expect(one.numbers).toHaveLength(partitions);
    await round(one, two);
    expect([...one.numbers, ...two.numbers].sort((a, b) => a - b)).toEqual(Array.from({ length: partitions }, (_, i) => i));
    expect(one.numbers).toHaveLength(partitions / 2);
    await round(one, two, three);
    expect(Math.max(...[one, two, three].map(({ numbers }) => numbers.length))).toBeLessThanOrEqual(6);
    await two.stop();
    await round(one, three);
    expect(one.numbers.length + three.numbers.length).toBe(partitions);
  });

  test("what a dead worker left unacknowledged reaches the next one, in order and once", async () => {
    const one = worker("one");
    await one.share();
    const alder = sites[0]!;
    for (let second = 0; second < 5; second++) await publish(alder, row(alder, second));
    await vi.waitFor(async () => expect((await kept())[0]).toHaveLength(5), soon);
    // It dies: another takes its turns over once they have run out, without its doing anything.
    clockMs += 60_000;
    const two = worker("two");
    for (let second = 5; second < 8; second++) await publish(alder, row(alder, second));
    await two.share();
    expect(two.numbers).toHaveLength(partitions);
    for (let second = 8; second < 20; second++) await publish(alder, row(alder, second));
    await vi.waitFor(async () => expect((await kept())[0]).toHaveLength(20), soon);
    expect((await kept())[0]).toEqual(Array.from({ length: 20 }, (_, second) => second));
  });

  test("a worker whose turn was taken over keeps nothing more and acknowledges nothing", async () => {
    const one = worker("one");
    await one.share();
    const alder = sites[0]!;
    await publish(alder, row(alder, 0));
    await vi.waitFor(() => expect(broker.acknowledged()).toBe(1), soon);
    const name = `broker ${String(partitionOf(alder.id)).padStart(2, "0")}`;
    await fresh.db.lease.update({ where: { name }, data: { owner: "other", fence: { increment: 1 }, until: new Date(clockMs + 60_000) } });
    await publish(alder, row(alder, 1));
    await vi.waitFor(() => expect(one.numbers).not.toContain(partitionOf(alder.id)), soon);
    expect(await kept()).toEqual([[0], [], [], []]);
    expect(broker.acknowledged()).toBe(1);
    expect(said.join(" ")).toMatch(/taken over/);
    await fresh.db.lease.update({ where: { name }, data: { until: new Date(0) } });
    await one.share();
    await vi.waitFor(async () => expect((await kept())[0]).toEqual([0, 1]), soon);
  });
});

test("a site's partition never changes, and topics are read as they are written", () => {
  expect(partitionOf("6f1c1f0e-3f0e-4f7e-9d53-0a1f6a3c9b11")).toBe(partitionOf("6f1c1f0e-3f0e-4f7e-9d53-0a1f6a3c9b11"));
  const spread = new Set(Array.from({ length: 400 }, (_, i) => partitionOf(`site ${i}`)));
  expect(spread.size).toBe(partitions);
  const site = { organisationId: "o", id: "s" };
  expect(siteTopic("a/b", site)).toBe("a/b/o/s/readings");
  expect(readTopic("a/b", "a/b/o/s/readings")).toEqual({ organisationId: "o", siteId: "s" });
  for (const topic of ["a/o/s/readings", "a/b/o/s", "a/b/o/s/readings/x", "a/b//s/readings"]) expect(readTopic("a/b", topic)).toBeNull();
  for (const bad of ["", "a/#", "a/+/b", "a//b", "a\nb"]) expect(() => requireTopic(bad)).toThrow(/cannot begin a topic/);
  expect(requireTopic("a/b/")).toBe("a/b");
});
