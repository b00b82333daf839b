import { gzipSync } from "node:zlib";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { createApiKey, keyOfHeader, listApiKeys, revokeApiKey } from "@/lib/access/api-keys";
import { batchLimits } from "@/lib/registry/arrival-body";
import { queueLimits } from "@/lib/registry/arrival-queue";
import type { Arrivals } from "@/lib/registry/readings-batch";
import { newId } from "@/lib/store/ids";
import { findKeptParts, openKeptPart } from "@/lib/store/kept-log-queries";
import { verifyRecord } from "@/lib/store/verify-record";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { makeArrivals, makeSender, arrivalNow as now } from "../support/arrivals";
import { eachDatabase, type FreshDatabase } from "../support/database";
import { follow } from "../support/following";

const header = "at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause";
const startMs = Date.parse("2026-03-09T12:00:00Z");
const at = (seconds: number) => new Date(startMs + seconds * 1000).toISOString();

eachDatabase("Readings that a device sends", (open) => {
  let fresh: FreshDatabase;
  let administrator: Actor;
  let siteId: string;
  let outlets: { id: string; name: string }[];
  let elsewhere: { id: string; name: string }[];
  let otherSiteId: string;
  let arrivals: Arrivals;

  beforeEach(async () => {
    fresh = await open();
    const { id: organisationId } = await makeOrganisation(fresh.db);
    administrator = await makeActor(fresh.db, organisationId, "administrator");
    const alder = await makeSite(fresh.db, organisationId);
    const birch = await makeSite(fresh.db, organisationId, "Birch Yard");
    [siteId, outlets, otherSiteId, elsewhere] = [alder.site.id, alder.outlets, birch.site.id, birch.outlets];
    arrivals = makeArrivals(fresh.db);
  });
  afterEach(() => fresh.close());

  const row = (seconds: number, outlet = outlets[0]!.name, more: Partial<Record<string, string | number>> = {}) =>
    JSON.stringify({ at: at(seconds), outlet, receptacle: "1", watts: 100 + seconds, volts: 120, ...more });
  const csv = (...rows: string[]) => [header, ...rows].join("\n");
  const sender = () => makeSender(fresh.db, administrator, siteId);

  async function kept(): Promise<string[]> {
    const parts = await findKeptParts(fresh.db, { organisationId: administrator.organisationId });
    const rows = await Promise.all(parts.map(({ id }) => openKeptPart(fresh.db, id)));
    return rows
      .flat()
      .map(({ atMs, outletId, watts }) => `${(atMs - startMs) / 1000} ${outletId} ${watts}`)
      .sort();
  }

  async function appliance(tag: string, home: string, outlet: { id: string }): Promise<string> {
    const id = newId();
    const { organisationId } = administrator;
    const keys = { searchText: tag.toLowerCase(), brandKey: "", modelKey: "", contentHash: "" };
    const data = { id, organisationId, tag, tagKey: tag.replace("-", ""), siteId: home, outletId: outlet.id, receptacle: "1", ...keys };
    await fresh.db.appliance.create({ data: { ...data, updatedAt: now } });
    const stay = { organisationId, applianceId: id, siteId: home, outletId: outlet.id, receptacle: "1", source: "labels" };
    await fresh.db.placement.create({ data: { id: newId(), ...stay, fromAt: new Date("2026-01-01T00:00:00Z") } });
    return id;
  }

  test("a key is shown once, kept as a hash, found by its header, noted when used, and dead once revoked", async () => {
    const { id, token, send } = await sender();
    const stored = await fresh.db.apiKey.findUniqueOrThrow({ where: { id } });
    expect(token).toMatch(/^pwk_[0-9a-f]{32}_[\w-]{43}$/);
    expect(JSON.stringify(stored)).not.toContain(token.slice(-43));
    expect(await keyOfHeader(fresh.db, `Bearer ${token}`)).toMatchObject({ id, siteId });
    const forged = `${token.slice(0, -1)}${token.endsWith("A") ? "B" : "A"}`;
    for (const header of [null, "", `Basic ${token}`, `Bearer ${forged}`, "Bearer pwk_x", `Bearer ${token} ${token}`])
      expect(await keyOfHeader(fresh.db, header), String(header)).toBeNull();
    await send(arrivals, row(0));
    expect((await listApiKeys(fresh.db, administrator))[0]).toMatchObject({ lastUsedAt: now, hint: token.slice(-4) });
    await revokeApiKey(fresh.db, administrator, { id, now });
    expect(await keyOfHeader(fresh.db, `Bearer ${token}`)).toBeNull();
    const entries = await fresh.db.recordEntry.findMany({ orderBy: { number: "asc" } });
    expect(entries.map(({ what }) => what)).toEqual(["made API key", "revoked API key"]);
    expect(JSON.stringify(entries)).not.toContain(stored.hash);
    expect(await verifyRecord(fresh.db, administrator.organisationId)).toMatchObject({ broken: null, entries: 2 });
  });

  test("only an administrator of the site makes and revokes keys, and only of their own organisation", async () => {
    const manager = await makeActor(fresh.db, administrator.organisationId, "manager");
    await expect(createApiKey(fresh.db, manager, { siteId, name: "x", now })).rejects.toMatchObject({ name: "Refused" });
    const neighbour = await makeActor(fresh.db, administrator.organisationId, "administrator", [otherSiteId]);
    await expect(createApiKey(fresh.db, neighbour, { siteId, name: "x", now })).rejects.toMatchObject({ name: "Refused" });
    const { id } = await sender();
    expect(await listApiKeys(fresh.db, neighbour)).toEqual([]);
    await expect(revokeApiKey(fresh.db, neighbour, { id, now })).rejects.toMatchObject({ name: "Refused" });
    const stranger = await makeActor(fresh.db, (await makeOrganisation(fresh.db, "Other")).id, "administrator");
    await expect(revokeApiKey(fresh.db, stranger, { id, now })).rejects.toMatchObject({ code: "not_found" });
    await expect(createApiKey(fresh.db, stranger, { siteId, name: "x", now })).rejects.toMatchObject({ code: "not_found" });
    await expect(createApiKey(fresh.db, administrator, { siteId, name: "  ", now })).rejects.toMatchObject({ code: "not_valid" });
  });

  test("CSV, JSON Lines, a JSON array and gzip give the same readings", async () => {
    const { send } = await sender();
    const first = await send(arrivals, [row(0), row(1)].join("\n"));
    expect(first).toMatchObject({ rows: 2, accepted: 2, repeated: 0, setAside: 0 });
    const line = (seconds: number) => `${at(seconds)},${outlets[0]!.name},upper,,${100 + seconds},,120,,,`;
    expect(await send(arrivals, csv(line(0), line(1), line(2)))).toMatchObject({ rows: 3, accepted: 1, repeated: 2 });
    expect(await send(arrivals, `[${row(1)},${row(3)}]`)).toMatchObject({ rows: 2, accepted: 1, repeated: 1 });
    expect(await send(arrivals, gzipSync([row(3), row(4), row(4)].join("\n")))).toMatchObject({ rows: 3, accepted: 1, repeated: 2 });
    expect(await kept()).toEqual([0, 1, 2, 3, 4].map((s) => `${s} ${outlets[0]!.id} ${100 + s}`));
  });

  test("what cannot be taken is set aside by line with its reason; the rest is taken", async () => {
    const { send } = await sender();
    const body = [
      row(0),
      "not JSON",
      row(1, elsewhere[0]!.name),
      row(2, "Nowhere 9"),
      row(3, outlets[0]!.name, { watts: -4 }),
      row(4, outlets[0]!.name, { site: "Birch Yard" }),
      row(5, outlets[0]!.name, { organisation: newId() }),
      row(6, outlets[0]!.name, { site: siteId, organisation: administrator.organisationId }),
      row(0),
    ].join("\n");
    const answer = await send(arrivals, body);
    expect(answer).toMatchObject({ rows: 9, accepted: 2, repeated: 1, setAside: 6 });
    expect(answer.firstSetAside.map(({ line }) => line)).toEqual([2, 3, 4, 5, 6, 7]);
    expect(answer.firstSetAside[1]?.reason).toMatch(/belongs to another site/);
    expect(answer.firstSetAside[4]?.reason).toMatch(/another organisation or site/);
    expect(await fresh.db.arrivalDay.findMany()).toMatchObject([{ day: "2026-03-10", batches: 1, accepted: 2, repeated: 1, setAside: 6 }]);
    expect(await kept()).toHaveLength(2);
  });

  test("the same batch again gets the same answer and changes nothing; its name for other content is refused", async () => {
    const { send } = await sender();
    const body = [row(0), row(1), "broken"].join("\n");
    const first = await send(arrivals, body, "b-1");
    const state = async () => JSON.stringify([await kept(), await fresh.db.arrivalDay.findMany(), await fresh.db.siteStream.findMany()]);
    const before = await state();
    expect(await send(arrivals, body, "b-1")).toEqual(first);
    expect(await send(makeArrivals(fresh.db), gzipSync(body), "b-1")).toEqual(first);
    const both = await Promise.all([send(arrivals, body, "b-1"), send(arrivals, body, "b-1")]);
    expect(both).toEqual([first, first]);
    await expect(send(arrivals, row(2), "b-1")).rejects.toMatchObject({ name: "BatchConflict" });
    expect(await state()).toBe(before);
    expect(await send(arrivals, body, "b-2")).toMatchObject({ accepted: 0, repeated: 2, setAside: 1 });
    const other = await makeSender(fresh.db, administrator, siteId, "second gateway");
    expect(await other.send(arrivals, body, "b-1")).toMatchObject({ accepted: 0, repeated: 2 });
  });

  test("many senders at once, in two processes: every reading is kept once, every answer adds up", async () => {
    const { send } = await sender();
    const processes = [arrivals, makeArrivals(fresh.db)];
    const bodies = Array.from({ length: 24 }, (_, i) => Array.from({ length: 10 }, (_, k) => row(i * 5 + k)).join("\n"));
    const answers = await Promise.all(bodies.flatMap((body) => processes.map((process) => send(process, body))));
    expect(answers.every(({ rows, accepted, repeated }) => rows === 10 && accepted + repeated === 10)).toBe(true);
    const seconds = 23 * 5 + 10;
    expect(answers.reduce((sum, { accepted }) => sum + accepted, 0)).toBe(seconds);
    expect(await kept()).toHaveLength(seconds);
    expect(new Set(await kept()).size).toBe(seconds);
    const [stream] = await fresh.db.siteStream.findMany();
    const parts = await fresh.db.keptLogPart.findMany({ orderBy: { arrival: "asc" } });
    expect(parts.map(({ arrival }) => arrival)).toEqual(parts.map((_, i) => i + 1));
    expect(stream?.lastPart).toBe(parts.length);
  });

  test("an unreadable, empty or too large batch is refused as a whole, a bomb of zeros too", async () => {
    const { send } = await sender();
    const refused = async (body: string | Uint8Array) =>
      send(arrivals, body).then(
        () => "taken",
        (error: { code: string }) => error.code,
      );
    expect(await refused("")).toBe("unreadable");
    expect(await refused("name,colour\na,b")).toBe("unreadable");
    expect(await refused("[{]")).toBe("unreadable");
    expect(await refused(Uint8Array.from([0x1f, 0x8b, 1, 2, 3]))).toBe("unreadable");
    expect(await refused(gzipSync(Buffer.alloc(batchLimits.mostBytes + 1)))).toBe("too_large");
    expect(await refused(`${header}\n${"x,y\n".repeat(batchLimits.mostRows + 1)}`)).toBe("too_large");
    await expect(send(arrivals, row(0), "a name with spaces")).rejects.toMatchObject({ code: "not_valid" });
    expect(await kept()).toEqual([]);
    expect(await fresh.db.siteStream.count()).toBe(0);
  });

  test("a full queue refuses at once and takes nothing; what waits is answered", async () => {
    const { send } = await sender();
    const narrow = makeArrivals(fresh.db, { ...queueLimits, mostOfSource: 2 });
    const sent = [0, 1, 2, 3].map((i) => send(narrow, row(i)));
    const settled = await Promise.allSettled(sent);
    const taken = settled.filter(({ status }) => status === "fulfilled").length;
    const refused = settled.flatMap((one) => (one.status === "rejected" ? [one.reason as { name: string; isSender: boolean }] : []));
    expect(refused.every(({ name, isSender }) => name === "TooBusy" && isSender)).toBe(true);
    expect(refused.length).toBeGreaterThan(0);
    expect(await kept()).toHaveLength(taken);
    const full = makeArrivals(fresh.db, { ...queueLimits, mostBatches: 0 });
    await expect(send(full, row(9))).rejects.toMatchObject({ name: "TooBusy", isSender: false });
    expect(await send(narrow, row(3))).toMatchObject({ rows: 1 });
  });

  test("one batch that cannot be kept does not take its neighbours with it", async () => {
    const { send, source } = await sender();
    const good = send(arrivals, row(0));
    const stale = { name: "nobody's", owner: "gone", fence: 1 };
    const rows = { rows: 1, readings: [], setAside: [], setAsideCount: 1, tags: [], tagCount: 0 };
    const bad = arrivals.queue.offer({ source, batchId: null, bodyHash: "x", rows, at: now, lease: stale });
    const settled = await Promise.allSettled([good, bad]);
    expect(settled.map(({ status }) => status)).toEqual(["fulfilled", "rejected"]);
    expect(await kept()).toHaveLength(1);
  });

  test("a retired site takes nothing, and rows from before what is kept one by one are set aside", async () => {
    const { send } = await sender();
    await send(arrivals, row(0));
    await fresh.db.siteStream.update({ where: { siteId }, data: { rawFrom: new Date(startMs + 10_000) } });
    const answer = await send(arrivals, [row(9), row(10)].join("\n"));
    expect(answer).toMatchObject({ rows: 2, accepted: 1, setAside: 1 });
    expect(answer.firstSetAside[0]?.reason).toMatch(/older than the time/);
    await fresh.db.site.update({ where: { id: siteId }, data: { retiredAt: now } });
    await expect(send(makeArrivals(fresh.db), row(20))).rejects.toMatchObject({ code: "not_found" });
  });

  test("an unknown tag and one of another site are told and move nothing; the readings are kept", async () => {
    const { send } = await sender();
    const foreign = await appliance("B-1", otherSiteId, elsewhere[0]!);
    const own = await appliance("A-1", siteId, outlets[0]!);
    const { siteId: strangerSite } = await strangerAppliance();
    const body = ["NOBODY-7", "B-1", "S-1", "A-1"].map((tag, i) => row(i, outlets[1]!.name, { tag })).join("\n");
    const answer = await send(arrivals, body);
    expect(answer).toMatchObject({ rows: 4, accepted: 4, setAside: 0, tagsSetAside: 3 });
    expect(answer.firstTagsSetAside.map(({ line, tag }) => [line, tag])).toEqual([
      [1, "NOBODY-7"],
      [2, "B-1"],
      [3, "S-1"],
    ]);
    expect(answer.firstTagsSetAside[0]?.reason).toBe(answer.firstTagsSetAside[2]?.reason);
    await follow(fresh.db, administrator.organisationId, siteId);
    const outletOf = async (id: string) => (await fresh.db.appliance.findUniqueOrThrow({ where: { id } })).outletId;
    expect(await outletOf(foreign)).toBe(elsewhere[0]!.id);
    expect(await outletOf(own)).toBe(outlets[1]!.id);
    expect(await fresh.db.observation.count({ where: { outletId: outlets[1]!.id } })).toBeGreaterThan(0);
    expect(await fresh.db.appliance.count({ where: { siteId: strangerSite, outletId: outlets[1]!.id } })).toBe(0);
  });

  async function strangerAppliance() {
    const { id: organisationId } = await makeOrganisation(fresh.db, "Quay Homes");
    const { site, outlets: theirs } = await makeSite(fresh.db, organisationId, "Quay");
    const keys = { searchText: "s-1", brandKey: "", modelKey: "", contentHash: "" };
    const data = {
      id: newId(),
      organisationId,
      tag: "S-1",
      tagKey: "S1",
      siteId: site.id,
      outletId: theirs[0]!.id,
      ...keys,
      updatedAt: now,
    };
    await fresh.db.appliance.create({ data });
    return { siteId: site.id };
  }
});
