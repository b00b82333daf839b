import type { Db } from "./client";

const applianceFields = {
  id: true,
  tag: true,
  outletId: true,
  receptacle: true,
  state: true,
  category: true,
  inputWatts: true,
  inputAmps: true,
  seenWatts: true,
  seenAmps: true,
} as const;

/** What a reconnection plan of these circuits needs: outlets, what is plugged in, open findings of it, and the largest readings since. */
export async function reconnectionGround(db: Db, circuitIds: readonly string[], since: Date) {
  const outlets = await db.outlet.findMany({
    where: { circuitId: { in: [...circuitIds] } },
    select: { id: true, name: true, circuitId: true, unitId: true, outletAmps: true },
    orderBy: { nameKey: "asc" },
  });
  const appliances = await db.appliance.findMany({
    where: { outletId: { in: outlets.map(({ id }) => id) }, state: { not: "retired" } },
    select: applianceFields,
    orderBy: { id: "asc" },
  });
  const ids = appliances.map(({ id }) => id);
  const findings = await db.finding.findMany({
    where: { applianceId: { in: ids }, closedAt: null },
    select: { applianceId: true, signalWord: true, sentence: true },
  });
  const peaks = await db.drawMinute.groupBy({
    by: ["applianceId"],
    where: { applianceId: { in: ids }, at: { gte: since } },
    _max: { maxWatts: true },
  });
  return { outlets, appliances, findings, peaks: new Map(peaks.map((row) => [row.applianceId ?? "", row._max.maxWatts])) };
}

/** How many appliances of these units have no known outlet: any of them may hang on the circuits. */
export function countUnplaced(db: Db, unitIds: readonly string[]): Promise<number> {
  return db.appliance.count({ where: { unitId: { in: [...unitIds] }, outletId: null, state: { not: "retired" } } });
}

/** Circuits of a site by name, or one of them. */
export function circuitsOf(db: Db, siteId: string, circuitId: string | null) {
  return db.circuit.findMany({ where: { siteId, ...(circuitId === null ? {} : { id: circuitId }) }, orderBy: { nameKey: "asc" } });
}
