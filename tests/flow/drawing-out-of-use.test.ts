import { expect, it } from "vitest";
import { changeState } from "@/lib/registry/appliance-state";
import { takeStep } from "@/lib/registry/take-step";
import { loadLog } from "@/lib/watch/log.run";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { makeAppliance } from "@/seed/recall-builders";
import { eachDatabase } from "../support/database";

const outAt = new Date("2026-03-02T12:00:00Z");
const header = "at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause";

async function* bytesOf(text: string): AsyncGenerator<Uint8Array> {
  yield new TextEncoder().encode(text);
}

eachDatabase("an appliance that was taken out of use", (open) => {
  it("is a new danger when readings show it drawing, and cannot go back in use meanwhile", async () => {
    const { db, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const actor = await makeActor(db, organisationId);
    const { site, unit, outlets } = await makeSite(db, organisationId);
    await makeAppliance(db, { organisationId, siteId: site.id, unitId: unit.id }, "T-1", { category: "heater", brand: "Keldamar" });
    const { id } = await db.appliance.findFirstOrThrow();
    await changeState(db, actor, { id, state: "out_of_use", reason: "Cord", now: outAt });
    const now = new Date("2026-03-03T08:00:00Z");
    const row = (at: string, watts: number) => `${at},${outlets[0]?.name},1,T-1,${watts},,120,,,`;
    const load = (rows: string[], name: string) =>
      loadLog(db, actor, { source: bytesOf([header, ...rows].join("\n")), fileName: name, now });
    const drawing = () => db.finding.findMany({ where: { cause: "drawing_out_of_use" } });

    await load([row("2026-03-02T10:00:00Z", 1400), row("2026-03-02T13:00:00Z", 0)], "before.csv");
    expect(await drawing()).toEqual([]);
    await load([row("2026-03-02T18:00:00Z", 1400), row("2026-03-02T18:01:00Z", 1390)], "after.csv");
    const [danger] = await drawing();
    expect(danger).toMatchObject({ signalWord: "DANGER", state: "open", applianceId: id, siteId: site.id, timesSeen: 1 });
    await expect(changeState(db, actor, { id, state: "in_use", reason: null, now })).rejects.toThrow(/settle the finding/);
    await load([row("2026-03-02T19:00:00Z", 1200)], "again.csv");
    expect(await drawing()).toMatchObject([{ version: danger?.version, timesSeen: 1 }]);

    const { id: findingId, version } = danger!;
    await takeStep(db, actor, { findingId, version, step: "record_proof", text: "Taken away.", now });
    const closing = { step: "close", outcome: "removed", text: "Gone.", evidence: "Receipt 7", now } as const;
    const inspector = await makeActor(db, organisationId, "inspector");
    await takeStep(db, inspector, { findingId, version: version + 1, ...closing });
    expect(await db.appliance.findUniqueOrThrow({ where: { id } })).toMatchObject({ state: "retired", outOfUseAt: null });
    await close();
  });
});
