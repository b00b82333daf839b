import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import mqtt, { type MqttClient } from "mqtt";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { partitionOf, partitions, siteTopic } from "@/lib/jobs/broker-topic";
import { applianceColumns } from "@/lib/registry/appliance-columns";
import { newId } from "@/lib/store/ids";
import { openKeptPart } from "@/lib/store/kept-log-queries";
import { findLeases } from "@/lib/store/lease-queries";
import { makeOrganisation, makeSite } from "@/seed/builders";
import { unreadFacts } from "@/seed/recall-builders";
import { startBroker } from "../support/broker";
import { eachDatabase, type FreshDatabase } from "../support/database";
import { type Running, startWorker } from "../support/worker-process";

const startMs = Date.parse("2026-03-09T12:00:00Z");
const soon = { timeout: 60_000, interval: 50 };
/** Seconds published at each site, before, while and after a worker is killed. */
const seconds = 90;
const killedAfter = 100;

type Made = Awaited<ReturnType<typeof makeSite>>;

eachDatabase("`worker --broker` as a command", (open) => {
  let fresh: FreshDatabase;
  let broker: Awaited<ReturnType<typeof startBroker>>;
  let device: MqttClient;
  let organisationId: string;
  let sites: Made[];
  let workers: Running[];
  let folder: string;

  beforeEach(async () => {
    fresh = await open();
    broker = await startBroker();
    device = await mqtt.connectAsync(broker.url);
    ({ id: organisationId } = await makeOrganisation(fresh.db));
    sites = [];
    for (const name of ["Alder", "Birch", "Cedar", "Dogwood"]) sites.push(await makeSite(fresh.db, organisationId, name));
    folder = mkdtempSync(join(tmpdir(), "pw-worker-"));
    workers = [];
  });
  afterEach(async () => {
    for (const { child } of workers) child.kill("SIGKILL");
    await Promise.all(workers.map(({ ended }) => ended));
    await device.endAsync(true);
    await broker.close();
    await fresh.close();
    rmSync(folder, { recursive: true, force: true });
  });

  /** Two workers that run and have shared the partitions evenly, and a broker that every site's topic was subscribed at. */
  async function startTwo(): Promise<void> {
    const env = { DATABASE_URL: fresh.url, PLATEWARDEN_DATA: folder };
    for (let number = 0; number < 2; number++) workers.push(startWorker(env, ["--broker", broker.url]));
    await Promise.all(workers.map(({ runs }) => runs));
    await vi.waitFor(async () => {
      expect([...(await sharesOf()).values()].map((numbers) => numbers.length)).toEqual([partitions / 2, partitions / 2]);
      expect(broker.watched()).toBeGreaterThanOrEqual(sites.length);
    }, soon);
  }

  /** The partitions that each process holds now, by its number. */
  async function sharesOf(): Promise<Map<number, number[]>> {
    const shares = new Map<number, number[]>();
    for (const { name, owner, until } of await findLeases(fresh.db, "broker ")) {
      const number = Number(name.slice("broker ".length));
      if (Number.isNaN(number) || until.getTime() < Date.now()) continue;
      const pid = Number(owner.split(" ")[1]);
      shares.set(pid, [...(shares.get(pid) ?? []), number]);
    }
    return shares;
  }

  async function addAppliance(tag: string, { site, outlets }: Made): Promise<string> {
    const facts = { ...unreadFacts, category: "fan", labelText: "120V 60Hz 0.6A" };
    const place = { organisationId: site.organisationId, siteId: site.id, outletId: outlets[0]!.id, receptacle: "1" };
    const id = newId();
    const at = new Date("2026-01-01T00:00:00Z");
    const columns = applianceColumns(tag, facts, 120);
    await fresh.db.appliance.create({ data: { id, ...place, tag, ...facts, ...columns, createdAt: at, updatedAt: at } });
    await fresh.db.placement.create({ data: { id: newId(), ...place, applianceId: id, fromAt: at, source: "labels" } });
    return id;
  }

  const reading = ({ outlets }: Made, second: number, more: object = {}) => ({
    at: new Date(startMs + second * 1000).toISOString(),
    outlet: outlets[second % 2]!.name,
    receptacle: "2",
    watts: 40,
    volts: 120,
    ...more,
  });
  const publish = ({ site }: Made, payload: unknown) =>
    device.publishAsync(siteTopic("platewarden", site), typeof payload === "string" ? payload : JSON.stringify(payload), { qos: 1 });

  /** The seconds kept of a site, one list a receptacle, in the order in which they came. */
  async function keptOf({ site }: Made): Promise<number[][]> {
    const parts = await fresh.db.keptLogPart.findMany({ where: { siteId: site.id }, orderBy: { arrival: "asc" }, select: { id: true } });
    const lanes = new Map<string, number[]>();
    for (const { id } of parts)
      for (const { atMs, outletId } of await openKeptPart(fresh.db, id))
        lanes.set(outletId, [...(lanes.get(outletId) ?? []), (atMs - startMs) / 1000]);
    return [...lanes.values()].sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0));
  }

  async function countedReadings(): Promise<number> {
    const { _sum } = await fresh.db.drawMinute.aggregate({ _sum: { readings: true } });
    return _sum.readings ?? 0;
  }

  test("two workers share the readings; one is killed, and each reading the broker took is kept and judged once, in order", {
    timeout: 180_000,
  }, async () => {
    await startTwo();
    const pidAtAlder = [...(await sharesOf())].find(([, numbers]) => numbers.includes(partitionOf(sites[0]!.site.id)))?.[0];
    const [killed, left] = [workers.find(({ child }) => child.pid === pidAtAlder)!, workers.find(({ child }) => child.pid !== pidAtAlder)!];
    let kill = false;
    for (let second = 0; second < seconds; second++) {
      for (const site of sites) await publish(site, reading(site, second));
      if (kill || broker.acknowledged() < killedAfter) continue;
      kill = true;
      killed.child.kill("SIGKILL");
    }
    await vi.waitFor(() => expect(broker.acknowledged()).toBeGreaterThanOrEqual(killedAfter), soon);
    killed.child.kill("SIGKILL");
    await killed.ended;
    for (const site of sites) await publish(site, reading(site, seconds));
    const lanes = [0, 1].map((first) =>
      Array.from({ length: seconds + 1 }, (_, second) => second).filter((second) => second % 2 === first),
    );
    await vi.waitFor(async () => expect(await Promise.all(sites.map(keptOf))).toEqual(sites.map(() => lanes)), soon);
    const sent = sites.length * (seconds + 1);
    await vi.waitFor(async () => expect(await countedReadings()).toBe(sent), soon);
    const counted = await fresh.db.arrivalDay.aggregate({ _sum: { accepted: true, setAside: true } });
    expect(counted._sum).toEqual({ accepted: sent, setAside: 0 });
    expect([...(await sharesOf())]).toEqual([[left.child.pid, Array.from({ length: partitions }, (_, number) => number)]]);
    left.child.kill("SIGTERM");
    expect(await left.ended).toBe(0);
  });

  test("what key, topic and payload do not agree on is refused and counted, and a foreign tag moves nothing", {
    timeout: 120_000,
  }, async () => {
    const [alder, birch] = sites as [Made, Made];
    const stranger = await makeSite(fresh.db, (await makeOrganisation(fresh.db, "Another house")).id, "Elm");
    const own = await addAppliance("K7-OWN", alder);
    const foreign = [await addAppliance("K7-BIRCH", birch), await addAppliance("K7-ELM", stranger)];
    const placesOf = (ids: readonly string[]) =>
      fresh.db.placement.findMany({ where: { applianceId: { in: [...ids] } }, orderBy: [{ applianceId: "asc" }, { fromAt: "asc" }] });
    const before = await placesOf(foreign);
    await startTwo();
    await publish(alder, { organisation: stranger.site.organisationId, site: alder.site.id, readings: [reading(alder, 1)] });
    await publish(alder, { site: birch.site.id, readings: [reading(alder, 2)] });
    await publish(alder, reading(birch, 3));
    await publish(alder, reading(stranger, 4));
    await publish(alder, reading(alder, 5, { site: "Birch" }));
    await publish(alder, "no log at all");
    // A topic that puts a site under a stranger's organisation is no site's: nobody is subscribed to it.
    await device.publishAsync(`platewarden/${stranger.site.organisationId}/${alder.site.id}/readings`, JSON.stringify(reading(alder, 6)), {
      qos: 1,
    });
    await publish(alder, reading(alder, 7, { tag: "K7-BIRCH" }));
    await publish(alder, reading(alder, 8, { tag: "K7-ELM" }));
    await publish(alder, reading(alder, 9, { tag: "K7-OWN" }));
    await vi.waitFor(async () => expect(await keptOf(alder)).toEqual([[7, 9], [8]]), soon);
    await vi.waitFor(async () => expect(await countedReadings()).toBe(3), soon);
    const days = await fresh.db.arrivalDay.findMany();
    expect(days).toMatchObject([{ siteId: alder.site.id, batches: 9, accepted: 3, setAside: 6 }]);
    expect(await placesOf(foreign)).toEqual(before);
    expect((await placesOf([own])).map(({ outletId, receptacle }) => [outletId, receptacle])).toEqual([
      [alder.outlets[0]!.id, "1"],
      [alder.outlets[1]!.id, "2"],
    ]);
  });
});
