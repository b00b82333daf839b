import { expect, it } from "vitest";
import { commandLineActor } from "@/lib/access/actor";
import { Refused } from "@/lib/access/refusal";
import { placeColumns } from "@/lib/registry/place-row";
import { loadPlaces } from "@/lib/registry/places-import";
import type { Store } from "@/lib/store/client";
import { findSetAside } from "@/lib/store/import-queries";
import { makeActor, makeOrganisation } from "@/seed/builders";
import { bytesOf, csvText } from "../support/csv";
import { eachDatabase } from "../support/database";

type Row = Readonly<Record<string, string>>;
const now = new Date("2026-02-03T10:00:00Z");

async function loaded(db: Store, actor: Parameters<typeof loadPlaces>[1], rows: readonly Row[]) {
  const account = await loadPlaces(db, actor, { source: bytesOf(csvText(placeColumns, rows)), fileName: "places.csv", now });
  const { rowsRead, created, updated, unchanged, setAside } = account;
  return { id: account.id, counts: [rowsRead, created, updated, unchanged, setAside] };
}

const outlet = (name: string, more: Row = {}): Row => ({
  site: "Alder House",
  unit: "0101",
  circuit: "A-1",
  device_amps: "15",
  volts: "120",
  leg: "1",
  outlet: name,
  outlet_amps: "15",
  receptacles: "2",
  ...more,
});

eachDatabase("a places file", (open) => {
  it("makes sites, units, circuits and outlets, and the same file again changes nothing", async () => {
    const { db, close } = await open();
    const actor = commandLineActor((await makeOrganisation(db)).id);
    const rows = [
      outlet("AH-1", { time_zone: "America/Chicago" }),
      outlet("AH-2"),
      outlet("AH-3", { unit: "0102" }),
      { site: "Alder House", unit: "0103" },
    ];
    expect((await loaded(db, actor, rows)).counts).toEqual([4, 4, 0, 0, 0]);
    expect((await loaded(db, actor, rows)).counts).toEqual([4, 0, 0, 4, 0]);
    expect(await db.site.findFirst()).toMatchObject({ timeZone: "America/Chicago", nominalVolts: 120 });
    expect([await db.unit.count(), await db.circuit.count(), await db.outlet.count()]).toEqual([3, 1, 3]);
    expect(await db.circuit.findFirst()).toMatchObject({ deviceAmps: 15, volts: 120, leg: "1" });
    await close();
  });

  it("completes what is known, and never erases by an empty cell", async () => {
    const { db, close } = await open();
    const actor = commandLineActor((await makeOrganisation(db)).id);
    await loaded(db, actor, [outlet("AH-1", { device_amps: "", outlet_amps: "" })]);
    expect((await loaded(db, actor, [outlet("AH-1", { device_amps: "20", receptacles: "", leg: "" })])).counts).toEqual([1, 0, 1, 0, 0]);
    expect(await db.circuit.findFirst()).toMatchObject({ deviceAmps: 20, leg: "1" });
    expect(await db.outlet.findFirst()).toMatchObject({ outletAmps: 15, receptacles: 2 });
    await close();
  });

  it("sets aside rows that contradict an earlier one, name no site, or cannot be read", async () => {
    const { db, close } = await open();
    const actor = commandLineActor((await makeOrganisation(db)).id);
    const rows = [
      outlet("AH-1"),
      outlet("AH-2", { device_amps: "20" }),
      outlet("AH-3", { site: "" }),
      outlet("AH-4", { receptacles: "many" }),
      outlet("AH-1", { site: "Birch Hall" }),
      outlet("", { circuit: "" }),
    ];
    const { id, counts } = await loaded(db, actor, rows);
    expect(counts).toEqual([6, 1, 0, 0, 5]);
    const reasons = (await findSetAside(db, id, -1, 10)).map((row) => `${row.line} ${row.reason}`);
    expect(reasons[0]).toMatch(/^3 device_amps: the circuit A-1 has 15 on line 2 and 20 here/);
    expect(reasons.map((reason) => reason.split(":")[0])).toEqual(["3 device_amps", "4 site", "5 receptacles", "6 site", "7 circuit"]);
    expect(await db.site.count()).toBe(1);
    await close();
  });

  it("refuses a surveyor, and holds a manager to the sites of the account", async () => {
    const { db, close } = await open();
    const organisationId = (await makeOrganisation(db)).id;
    const surveyor = await makeActor(db, organisationId, "surveyor");
    await expect(loaded(db, surveyor, [outlet("AH-1")])).rejects.toBeInstanceOf(Refused);
    const manager = await makeActor(db, organisationId, "manager", []);
    expect((await loaded(db, manager, [outlet("AH-1")])).counts).toEqual([1, 0, 0, 0, 1]);
    await close();
  });
});
