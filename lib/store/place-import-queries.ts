import { type BulkColumn, bulkInsert, bulkUpdate } from "./bulk";
import type { Db } from "./client";

export interface SiteHead {
  readonly id: string;
  readonly name: string;
  readonly nameKey: string;
  readonly timeZone: string | null;
  readonly nominalVolts: number | null;
}
export interface UnitHead {
  readonly id: string;
  readonly siteId: string;
  readonly name: string;
  readonly nameKey: string;
}
export interface CircuitHead {
  readonly id: string;
  readonly siteId: string;
  readonly unitId: string | null;
  readonly name: string;
  readonly nameKey: string;
  readonly deviceAmps: number | null;
  readonly volts: number | null;
  readonly leg: string | null;
}
export interface OutletHead {
  readonly id: string;
  readonly siteId: string;
  readonly unitId: string | null;
  readonly circuitId: string | null;
  readonly name: string;
  readonly nameKey: string;
  readonly outletAmps: number | null;
  readonly receptacles: number;
}

const siteHead = { id: true, name: true, nameKey: true, timeZone: true, nominalVolts: true } as const;
const unitHead = { id: true, siteId: true, name: true, nameKey: true } as const;
const circuitHead = { id: true, siteId: true, unitId: true, name: true, nameKey: true, deviceAmps: true, volts: true, leg: true } as const;
const outletHead = {
  id: true,
  siteId: true,
  unitId: true,
  circuitId: true,
  name: true,
  nameKey: true,
  outletAmps: true,
  receptacles: true,
} as const;

export function findSitesByName(db: Db, organisationId: string, nameKeys: string[]): Promise<SiteHead[]> {
  return db.site.findMany({ where: { organisationId, nameKey: { in: nameKeys } }, select: siteHead });
}

export function findUnitsByName(db: Db, organisationId: string, siteIds: string[], nameKeys: string[]): Promise<UnitHead[]> {
  return db.unit.findMany({ where: { organisationId, siteId: { in: siteIds }, nameKey: { in: nameKeys } }, select: unitHead });
}

export function findCircuitsByName(db: Db, organisationId: string, siteIds: string[], nameKeys: string[]): Promise<CircuitHead[]> {
  return db.circuit.findMany({ where: { organisationId, siteId: { in: siteIds }, nameKey: { in: nameKeys } }, select: circuitHead });
}

export function findOutletsByName(db: Db, organisationId: string, nameKeys: string[]): Promise<OutletHead[]> {
  return db.outlet.findMany({ where: { organisationId, nameKey: { in: nameKeys } }, select: outletHead });
}

const text = (name: string): BulkColumn => ({ name, type: "text" });
const real = (name: string): BulkColumn => ({ name, type: "real" });
const created: BulkColumn = { name: "createdAt", type: "timestamp" };

/** Writers below leave a place alone that someone else made in the meantime; read it again afterwards. */
export async function insertSites(db: Db, organisationId: string, sites: readonly SiteHead[], at: Date): Promise<void> {
  await bulkInsert(db, {
    table: "Site",
    columns: [text("id"), text("organisationId"), text("name"), text("nameKey"), text("timeZone"), real("nominalVolts"), created],
    rows: sites.map((site) => [site.id, organisationId, site.name, site.nameKey, site.timeZone, site.nominalVolts, at]),
    onConflict: { key: ["organisationId", "nameKey"] },
  });
}

export async function insertUnits(db: Db, organisationId: string, units: readonly UnitHead[], at: Date): Promise<void> {
  await bulkInsert(db, {
    table: "Unit",
    columns: [text("id"), text("organisationId"), text("siteId"), text("name"), text("nameKey"), created],
    rows: units.map((unit) => [unit.id, organisationId, unit.siteId, unit.name, unit.nameKey, at]),
    onConflict: { key: ["organisationId", "siteId", "nameKey"] },
  });
}

export async function insertCircuits(db: Db, organisationId: string, circuits: readonly CircuitHead[], at: Date): Promise<void> {
  await bulkInsert(db, {
    table: "Circuit",
    columns: [
      ...["id", "organisationId", "siteId", "unitId", "name", "nameKey"].map(text),
      real("deviceAmps"),
      real("volts"),
      text("leg"),
      created,
    ],
    rows: circuits.map((circuit) => [
      circuit.id,
      organisationId,
      circuit.siteId,
      circuit.unitId,
      circuit.name,
      circuit.nameKey,
      circuit.deviceAmps,
      circuit.volts,
      circuit.leg,
      at,
    ]),
    onConflict: { key: ["organisationId", "siteId", "nameKey"] },
  });
}

export async function insertOutlets(db: Db, organisationId: string, outlets: readonly OutletHead[], at: Date): Promise<void> {
  await bulkInsert(db, {
    table: "Outlet",
    columns: [
      ...["id", "organisationId", "siteId", "unitId", "circuitId", "name", "nameKey"].map(text),
      real("outletAmps"),
      { name: "receptacles", type: "integer" },
      created,
    ],
    rows: outlets.map((outlet) => [
      outlet.id,
      organisationId,
      outlet.siteId,
      outlet.unitId,
      outlet.circuitId,
      outlet.name,
      outlet.nameKey,
      outlet.outletAmps,
      outlet.receptacles,
      at,
    ]),
    onConflict: { key: ["organisationId", "nameKey"] },
  });
}

export async function updateSites(db: Db, sites: readonly SiteHead[]): Promise<void> {
  await bulkUpdate(db, {
    table: "Site",
    columns: [text("id"), text("timeZone"), real("nominalVolts")],
    rows: sites.map((site) => [site.id, site.timeZone, site.nominalVolts]),
  });
}

export async function updateCircuits(db: Db, circuits: readonly CircuitHead[]): Promise<void> {
  await bulkUpdate(db, {
    table: "Circuit",
    columns: [text("id"), text("unitId"), real("deviceAmps"), real("volts"), text("leg")],
    rows: circuits.map(({ id, unitId, deviceAmps, volts, leg }) => [id, unitId, deviceAmps, volts, leg]),
  });
}

export async function updateOutlets(db: Db, outlets: readonly OutletHead[]): Promise<void> {
  await bulkUpdate(db, {
    table: "Outlet",
    columns: [text("id"), text("unitId"), text("circuitId"), real("outletAmps"), { name: "receptacles", type: "integer" }],
    rows: outlets.map(({ id, unitId, circuitId, outletAmps, receptacles }) => [id, unitId, circuitId, outletAmps, receptacles]),
  });
}
