import { afterEach, beforeEach, expect, test } from "vitest";
import { openOrRefreshFinding, type SeenCause } from "@/lib/casework/findings.run";
import { findingHistory } from "@/lib/store/finding-queries";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const now = new Date("2026-03-02T10:00:00Z");
const later = new Date("2026-03-05T10:00:00Z");

eachDatabase("Findings", (open) => {
  let fresh: FreshDatabase;
  let seen: SeenCause;
  const see = (change: Partial<SeenCause> = {}) => fresh.db.$transaction((tx) => openOrRefreshFinding(tx, { ...seen, ...change }));
  const stored = () => fresh.db.finding.findFirstOrThrow();

  beforeEach(async () => {
    fresh = await open();
    const organisation = await makeOrganisation(fresh.db);
    const { site, outlets } = await makeSite(fresh.db, organisation.id);
    seen = {
      organisationId: organisation.id,
      key: `outlet_overload:outlet:${outlets[0]!.id}`,
      cause: "outlet_overload",
      siteId: site.id,
      outletId: outlets[0]!.id,
      signalWord: "WARNING",
      sentence: "18.2 A seen, 15 A rated.",
      evidence: { figures: [{ name: "Seen", value: "18.2 A" }], reasons: ["Both receptacles together."] },
      now,
      actor: await makeActor(fresh.db, organisation.id),
    };
  });
  afterEach(() => fresh.close());

  test("a cause seen for the first time opens a finding, due by its signal word, with a line in its history and the record", async () => {
    const { id, outcome } = await see();
    expect(outcome).toBe("opened");
    const finding = await stored();
    expect(finding).toMatchObject({ id, state: "open", signalWord: "WARNING", timesSeen: 1, dueAt: new Date("2026-03-09T10:00:00Z") });
    expect((await findingHistory(fresh.db, id)).map((note) => note.step)).toEqual(["opened"]);
    expect((await fresh.db.recordEntry.findMany()).map((entry) => entry.what)).toEqual(["finding opened"]);
  });

  test("the same evidence again changes nothing", async () => {
    await see();
    const before = await stored();
    expect((await see({ now: later })).outcome).toBe("unchanged");
    expect(await stored()).toEqual(before);
  });

  test("new evidence refreshes the one finding and counts it", async () => {
    await see();
    const again = await see({ now: later, sentence: "19 A seen, 15 A rated.", evidence: { figures: [], reasons: [] } });
    expect(again.outcome).toBe("refreshed");
    expect(await fresh.db.finding.count()).toBe(1);
    expect(await stored()).toMatchObject({ timesSeen: 2, refreshedAt: later, sentence: "19 A seen, 15 A rated.", version: 2 });
  });

  test("the signal word rises with what is seen and brings the due date forward, and never falls by itself", async () => {
    await see();
    await see({ now: later, signalWord: "DANGER" });
    expect(await stored()).toMatchObject({ signalWord: "DANGER", dueAt: new Date("2026-03-06T10:00:00Z") });
    await see({ now: later, signalWord: "CAUTION", sentence: "15.1 A seen." });
    expect(await stored()).toMatchObject({ signalWord: "DANGER", sentence: "15.1 A seen." });
    expect((await findingHistory(fresh.db, (await stored()).id)).map((note) => note.step)).toEqual(["opened", "raised"]);
  });

  test("a closed finding whose cause comes back opens again and says so; with the old evidence it stays closed", async () => {
    const { id } = await see();
    await fresh.db.finding.update({
      where: { id },
      data: { state: "closed", closedAt: now, outcome: "repaired", outcomeEvidence: "receipt 12" },
    });
    expect((await see({ now: later })).outcome).toBe("unchanged");
    expect((await stored()).state).toBe("closed");
    expect((await see({ now: later, sentence: "21 A seen, 15 A rated." })).outcome).toBe("opened again");
    expect(await stored()).toMatchObject({ state: "open", closedAt: null, outcome: null, dueAt: new Date("2026-03-12T10:00:00Z") });
    const history = await findingHistory(fresh.db, id);
    expect(history.at(-1)?.text).toContain("closed as repaired");
  });

  test("eight writers at once that see the same cause make one finding", async () => {
    const outcomes = await Promise.all(Array.from({ length: 8 }, () => see()));
    expect(new Set(outcomes.map(({ id }) => id)).size).toBe(1);
    expect(outcomes.filter(({ outcome }) => outcome === "opened")).toHaveLength(1);
    expect(await fresh.db.finding.count()).toBe(1);
  });

  test("what was seen is not kept when the transaction around it fails", async () => {
    await expect(
      fresh.db.$transaction(async (tx) => {
        await openOrRefreshFinding(tx, seen);
        throw new Error("the log broke off");
      }),
    ).rejects.toThrow("the log broke off");
    expect(await fresh.db.finding.count()).toBe(0);
    expect(await fresh.db.recordEntry.count()).toBe(0);
  });
});
