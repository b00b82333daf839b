import type { Db } from "./client";
import type { Calibration, Competence, Instrument } from "./generated/sqlite/client";

export type { Calibration, Competence, Instrument };

/** An instrument with the calibration that holds the longest. */
export interface KnownInstrument extends Instrument {
  readonly calibration: Calibration | null;
}

/** Instruments of an organisation that are in use, by make and serial number. */
export async function findInstruments(db: Db, organisationId: string): Promise<KnownInstrument[]> {
  const rows = await db.instrument.findMany({
    where: { organisationId, retiredAt: null },
    include: { calibrations: { orderBy: { validUntil: "desc" }, take: 1 } },
    orderBy: [{ make: "asc" }, { serial: "asc" }],
  });
  return rows.map(({ calibrations, ...row }) => ({ ...row, calibration: calibrations[0] ?? null }));
}

export function findInstrument(db: Db, organisationId: string, id: string): Promise<Instrument | null> {
  return db.instrument.findFirst({ where: { id, organisationId } });
}

export function findSameInstrument(db: Db, where: Pick<Instrument, "organisationId" | "make" | "serial">): Promise<Instrument | null> {
  return db.instrument.findFirst({ where });
}

export async function insertInstrument(tx: Db, row: Omit<Instrument, "retiredAt">): Promise<void> {
  await tx.instrument.create({ data: row });
}

export async function insertCalibration(tx: Db, row: Calibration): Promise<void> {
  await tx.calibration.create({ data: row });
}

/** False when it was put away already. */
export async function retireInstrument(tx: Db, id: string, retiredAt: Date): Promise<boolean> {
  return (await tx.instrument.updateMany({ where: { id, retiredAt: null }, data: { retiredAt } })).count === 1;
}

/** Competences that were not ended, of one person or of all. */
export function findCompetences(db: Db, organisationId: string, userId?: string): Promise<Competence[]> {
  const where = { organisationId, endedAt: null, ...(userId === undefined ? {} : { userId }) };
  return db.competence.findMany({ where, orderBy: [{ userId: "asc" }, { what: "asc" }, { id: "asc" }] });
}

export function findCompetence(db: Db, organisationId: string, id: string): Promise<Competence | null> {
  return db.competence.findFirst({ where: { id, organisationId } });
}

export async function insertCompetence(tx: Db, row: Omit<Competence, "endedAt" | "endedWhy">): Promise<void> {
  await tx.competence.create({ data: row });
}

/** False when it was ended already. */
export async function endCompetence(tx: Db, id: string, end: { endedAt: Date; endedWhy: string }): Promise<boolean> {
  return (await tx.competence.updateMany({ where: { id, endedAt: null }, data: end })).count === 1;
}
