import { afterEach, beforeEach, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { type FindingCause, findingKey } from "@/lib/casework/cause";
import { openOrRefreshFinding } from "@/lib/casework/findings.run";
import { getFinding } from "@/lib/registry/finding-detail";
import { exportFindings, findingQuery, listFindings } from "@/lib/registry/finding-list";
import { openFindingByHand } from "@/lib/registry/open-finding";
import { takeStep } from "@/lib/registry/take-step";
import { getToday } from "@/lib/registry/today";
import { newId } from "@/lib/store/ids";
import type { SignalWord } from "@/lib/watch/screening-result";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const day = (n: number) => new Date(Date.UTC(2026, 2, n, 10));
const now = day(20);

eachDatabase("The day's work and the list of findings", (open) => {
  let fresh: FreshDatabase;
  let manager: Actor;
  let alder: Awaited<ReturnType<typeof makeSite>>;
  let birch: Awaited<ReturnType<typeof makeSite>>;

  beforeEach(async () => {
    fresh = await open();
    const { id } = await makeOrganisation(fresh.db);
    manager = await makeActor(fresh.db, id);
    alder = await makeSite(fresh.db, id);
    birch = await makeSite(fresh.db, id, "Birch Yard");
  });
  afterEach(() => fresh.close());

  async function tagAppliance(tag: string, searchText: string): Promise<string> {
    const id = newId();
    const place = { siteId: alder.site.id, unitId: alder.unit.id, outletId: alder.outlets[0]!.id, receptacle: "2" };
    await fresh.db.appliance.create({
      data: {
        id,
        organisationId: manager.organisationId,
        tag,
        tagKey: tag.replaceAll("-", ""),
        ...place,
        category: "kettle",
        brand: "Ostrel",
        model: "KL-17",
        labelText: "120V 1500W",
        searchText,
        brandKey: "ostrel",
        modelKey: "KL17",
        contentHash: "",
        updatedAt: now,
      },
    });
    return id;
  }

  const see = (
    cause: FindingCause,
    signalWord: SignalWord,
    opened: Date,
    about: { applianceId?: string; circuitId?: string; siteId?: string; sentence?: string } = {},
  ) =>
    fresh.db.$transaction((tx) => {
      const thing = about.applianceId ? ("appliance" as const) : about.circuitId ? ("circuit" as const) : ("site" as const);
      const siteId = about.siteId ?? alder.site.id;
      return openOrRefreshFinding(tx, {
        organisationId: manager.organisationId,
        key: findingKey(cause, thing, about.applianceId ?? about.circuitId ?? siteId),
        cause,
        signalWord,
        siteId,
        applianceId: about.applianceId ?? null,
        circuitId: about.circuitId ?? null,
        sentence: about.sentence ?? "Seen.",
        evidence: { figures: [], reasons: [] },
        now: opened,
        actor: manager,
      });
    });
  const list = (query: Record<string, string>, actor = manager) => listFindings(fresh.db, actor, { query: findingQuery.parse(query), now });

  test("each finding stands under what can be done about it, the group with the oldest danger first", async () => {
    const kettle = await tagAppliance("K1-KET", "k1-ket ostrel kl-17");
    await see("over_rating", "DANGER", day(12), { applianceId: kettle });
    await see("circuit_overload", "WARNING", day(1), { circuitId: alder.circuit.id });
    await see("lost_neutral", "DANGER", day(9));
    await see("drift", "NOTICE", day(2), { applianceId: kettle });
    const today = await getToday(fresh.db, manager);
    expect(today.groups.map(({ name, total }) => [name, total])).toEqual([
      ["call_electrician", 2],
      ["take_out_of_use", 1],
      ["decide", 1],
    ]);
    expect(today.groups[0]?.tasks.map(({ signalWord }) => signalWord)).toEqual(["DANGER", "WARNING"]);
    expect(today).toMatchObject({ dangers: { count: 1, oldest: day(12) }, open: 4, appliances: 1, readingsUntil: null });
  });

  test("what was taken out of use waits for its proof, and what is closed is gone from the day", async () => {
    const kettle = await tagAppliance("K1-KET", "");
    const { id } = await see("over_rating", "WARNING", day(12), { applianceId: kettle });
    await takeStep(fresh.db, manager, { findingId: id, version: 1, step: "take_out_of_use", text: "", now });
    expect((await getToday(fresh.db, manager)).groups.map(({ name }) => name)).toEqual(["bring_proof"]);
    await takeStep(fresh.db, manager, { findingId: id, version: 2, step: "close", text: "", outcome: "repaired", now });
    expect(await getToday(fresh.db, manager)).toMatchObject({ groups: [], open: 0, dangers: { count: 0, oldest: null } });
  });

  test("a person limited to a site sees that site's work only", async () => {
    await see("lost_neutral", "DANGER", day(9));
    await see("high_voltage", "CAUTION", day(9), { siteId: birch.site.id });
    const neighbour = await makeActor(fresh.db, manager.organisationId, "inspector", [birch.site.id]);
    const today = await getToday(fresh.db, neighbour);
    expect(today.groups.flatMap(({ tasks }) => tasks).map(({ signalWord }) => signalWord)).toEqual(["CAUTION"]);
    expect((await list({}, neighbour)).total).toBe(1);
    const [foreign] = (await list({ site: alder.site.id })).rows;
    await expect(getFinding(fresh.db, neighbour, { id: foreign!.finding.id })).rejects.toMatchObject({ code: "not_found" });
  });

  test("the list is sorted by the strength of the word, finds by tag, filters and pages", async () => {
    const kettle = await tagAppliance("K1-KET", "k1-ket ostrel kl-17");
    await see("drift", "NOTICE", day(2), { applianceId: kettle });
    await see("circuit_overload", "WARNING", day(3), { circuitId: alder.circuit.id });
    await see("lost_neutral", "DANGER", day(4), { siteId: birch.site.id });
    await see("recall", "CAUTION", day(5), { applianceId: kettle, sentence: "Covered by recall notice 26-900." });
    const words = async (query: Record<string, string>) => (await list(query)).rows.map(({ finding }) => finding.signalWord);
    expect(await words({})).toEqual(["DANGER", "WARNING", "CAUTION", "NOTICE"]);
    expect(await words({ order: "desc" })).toEqual(["NOTICE", "CAUTION", "WARNING", "DANGER"]);
    expect(await words({ sort: "since" })).toEqual(["NOTICE", "WARNING", "DANGER", "CAUTION"]);
    expect(await words({ q: "Ostrel k1-ket" })).toEqual(["CAUTION", "NOTICE"]);
    expect(await words({ q: "26-900" })).toEqual(["CAUTION"]);
    expect(await words({ q: "nothing of this name" })).toEqual([]);
    expect(await words({ site: birch.site.id })).toEqual(["DANGER"]);
    expect(await words({ word: "WARNING" })).toEqual(["WARNING"]);
    expect(await words({ due: "past" })).toEqual(["DANGER", "WARNING"]);
    expect(await words({ state: "closed" })).toEqual([]);
    expect(await words({ owner: "nobody", cause: "recall" })).toEqual(["CAUTION"]);
    expect([...(await list({ word: "WARNING" })).counts.values()].reduce((a, b) => a + b, 0)).toBe(4);
    const [row] = (await list({ cause: "recall" })).rows;
    expect(row).toMatchObject({
      place: { site: "Alder House", unit: "0101", spot: "outlet Alder House A-1-1, lower" },
      timeZone: "America/Chicago",
    });
  });

  test("pages of sixty findings hold each once, whatever words they have", async () => {
    const words = ["DANGER", "WARNING", "CAUTION", "NOTICE"] as const;
    for (let i = 0; i < 60; i++) await see("by hand", words[i % 4]!, day(1 + (i % 15)), { applianceId: newId() });
    const first = await list({});
    const second = await list({ page: "2" });
    expect([first.rows.length, second.rows.length, first.total, first.pages]).toEqual([50, 10, 60, 2]);
    const ids = [...first.rows, ...second.rows].map(({ finding }) => finding.id);
    expect(new Set(ids).size).toBe(60);
    const exported: string[] = [];
    for await (const rows of exportFindings(fresh.db, manager, { query: findingQuery.parse({}), now }))
      exported.push(...rows.map(({ finding }) => finding.id));
    expect(exported).toEqual(ids);
  });

  test("a finding opened by hand names its appliance by tag; sent twice it is one, and an unknown tag is refused", async () => {
    const kettle = await tagAppliance("K1-KET", "");
    const form = {
      tag: "k1-ket",
      siteId: "",
      outlet: "",
      signalWord: "WARNING",
      sentence: "The plug is scorched.",
      formId: newId(),
      now,
    } as const;
    const { id } = await openFindingByHand(fresh.db, manager, form);
    expect(await openFindingByHand(fresh.db, manager, form)).toMatchObject({ id, outcome: "unchanged" });
    expect(await fresh.db.finding.findMany()).toMatchObject([
      { applianceId: kettle, siteId: alder.site.id, cause: "by hand", sentence: "The plug is scorched." },
    ]);
    await expect(openFindingByHand(fresh.db, manager, { ...form, tag: "K9-NONE" })).rejects.toMatchObject({
      fields: { tag: expect.stringMatching(/No appliance has the tag/) },
    });
    await expect(openFindingByHand(fresh.db, manager, { ...form, tag: "" })).rejects.toMatchObject({
      fields: { siteId: expect.any(String) },
    });
    await expect(
      openFindingByHand(fresh.db, manager, { ...form, tag: "", siteId: birch.site.id, outlet: "Alder House A-1-1" }),
    ).rejects.toMatchObject({ fields: { outlet: expect.any(String) } });
    const neighbour = await makeActor(fresh.db, manager.organisationId, "surveyor", [birch.site.id]);
    await expect(openFindingByHand(fresh.db, neighbour, { ...form, formId: newId() })).rejects.toMatchObject({ name: "Refused" });
  });

  test("a finding's page has its history with names, its steps, and says when a second person is needed", async () => {
    const kettle = await tagAppliance("K1-KET", "");
    await makeActor(fresh.db, manager.organisationId, "inspector");
    const { id } = await see("over_rating", "DANGER", day(12), { applianceId: kettle });
    await takeStep(fresh.db, manager, { findingId: id, version: 1, step: "record_proof", text: "Receipt 12", now });
    const detail = await getFinding(fresh.db, manager, { id });
    expect(detail.history.map(({ step, by }) => [step, by])).toEqual([
      ["opened", "Robin manager"],
      ["record_proof", "Robin manager"],
    ]);
    expect(detail.needsSecondPerson).toBe(true);
    expect(detail.outcomes).not.toContain("accepted");
    expect(detail.steps).toContain("close");
    expect(detail.people.length).toBe(2);
  });
});
