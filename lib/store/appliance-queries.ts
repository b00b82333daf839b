import { bulkUpdate } from "./bulk";
import type { Db } from "./client";
import type { Appliance, Prisma } from "./generated/sqlite/client";

export type { Appliance } from "./generated/sqlite/client";

/** The appliance in the organisation, or null. */
export function findAppliance(db: Db, organisationId: string, id: string): Promise<Appliance | null> {
  return db.appliance.findFirst({ where: { id, organisationId } });
}

export function findApplianceByTag(db: Db, organisationId: string, tagKey: string): Promise<Appliance | null> {
  return db.appliance.findFirst({ where: { organisationId, tagKey } });
}

export async function insertAppliance(tx: Db, data: Prisma.ApplianceUncheckedCreateInput): Promise<void> {
  await tx.appliance.create({ data });
}

/** Changes an appliance that is still at `version`; false when somebody changed it meanwhile. */
export async function changeAppliance(tx: Db, id: string, version: number, data: Prisma.ApplianceUncheckedUpdateInput): Promise<boolean> {
  const { count } = await tx.appliance.updateMany({ where: { id, version }, data: { ...data, version: version + 1 } });
  return count === 1;
}

/** How many appliances of the same make and model there are besides this one; retired ones are left out. */
export function countIdentical(db: Db, where: Prisma.ApplianceWhereInput): Promise<number> {
  return db.appliance.count({ where });
}

export interface DerivedColumns {
  readonly inputWatts: number | null;
  readonly inputAmps: number | null;
  readonly allowedWatts: number | null;
  readonly allowedAmps: number | null;
}

const rowsAtOnce = 1000;

/** Works the derived figures of a site's appliances out again, a thousand at a time, and stores those that differ. */
export async function refreshDerivedColumns(tx: Db, siteId: string, derive: (row: Appliance) => DerivedColumns): Promise<void> {
  let after = "";
  for (;;) {
    const rows = await tx.appliance.findMany({ where: { siteId, id: { gt: after } }, orderBy: { id: "asc" }, take: rowsAtOnce });
    const changed = rows.flatMap((row) => {
      const { inputWatts, inputAmps, allowedWatts, allowedAmps } = derive(row);
      const same = row.inputWatts === inputWatts && row.inputAmps === inputAmps && row.allowedWatts === allowedWatts;
      return same && row.allowedAmps === allowedAmps ? [] : [[row.id, inputWatts, inputAmps, allowedWatts, allowedAmps]];
    });
    const figures = ["inputWatts", "inputAmps", "allowedWatts", "allowedAmps"].map((name) => ({ name, type: "real" as const }));
    await bulkUpdate(tx, { table: "Appliance", columns: [{ name: "id", type: "text" }, ...figures], rows: changed });
    after = rows.at(-1)?.id ?? "";
    if (rows.length < rowsAtOnce) return;
  }
}
