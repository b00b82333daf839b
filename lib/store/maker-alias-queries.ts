import type { AliasLink } from "@/lib/identity/maker-alias";
import type { Db } from "./client";

export interface NewAlias extends AliasLink {
  readonly id: string;
  readonly organisationId: string;
  readonly nameKey: string;
  readonly otherKey: string;
  readonly origin: string;
  readonly reason: string;
  readonly byUserId: string | null;
  readonly at: Date;
}

export async function insertAlias(tx: Db, alias: NewAlias): Promise<void> {
  await tx.makerAlias.create({ data: alias });
}

/** The aliases that stand, or all with those withdrawn, by name. */
export async function findAliases(db: Db, organisationId: string, { withdrawn = false } = {}) {
  const rows = await db.makerAlias.findMany({
    where: { organisationId, ...(withdrawn ? {} : { withdrawnAt: null }) },
    orderBy: [{ nameKey: "asc" }, { otherKey: "asc" }, { id: "asc" }],
  });
  return rows.map((row) => ({ ...row, relation: row.relation as AliasLink["relation"] }));
}

export type StoredAlias = Awaited<ReturnType<typeof findAliases>>[number];

export async function withdrawStoredAlias(
  tx: Db,
  id: string,
  by: { readonly userId: string | null; readonly at: Date; readonly why: string },
): Promise<void> {
  await tx.makerAlias.update({ where: { id }, data: { withdrawnAt: by.at, withdrawnByUserId: by.userId, withdrawnWhy: by.why } });
}

/** The ids of the notices that name one of these makers (as `makerKey`s) as theirs. */
export async function findNoticesOfMakers(db: Db, organisationId: string, keys: readonly string[]): Promise<string[]> {
  const wanted = new Set(keys);
  const ids = new Set<string>();
  for (const key of wanted) {
    const rows = await db.notice.findMany({
      where: { organisationId, brandKeys: { contains: key } },
      select: { id: true, brandKeys: true },
    });
    for (const { id, brandKeys } of rows) if (brandKeys.split(" ").some((one) => wanted.has(one))) ids.add(id);
  }
  return [...ids].sort();
}

/** The ids of the appliances that are not retired and are of these makers, or may be by their plate's text alone. */
export async function findAppliancesOfMakers(db: Db, organisationId: string, keys: readonly string[]): Promise<string[]> {
  const rows = await db.appliance.findMany({
    where: {
      organisationId,
      state: { not: "retired" },
      OR: [{ brandKey: { in: [...keys] } }, { brand: null, labelText: { not: null } }],
    },
    select: { id: true },
    orderBy: { id: "asc" },
  });
  return rows.map(({ id }) => id);
}

/** How many appliances each maker key has. */
export async function countByMaker(db: Db, organisationId: string, keys: readonly string[]): Promise<ReadonlyMap<string, number>> {
  const groups = await db.appliance.groupBy({
    by: ["brandKey"],
    where: { organisationId, brandKey: { in: [...keys] }, state: { not: "retired" } },
    _count: { _all: true },
  });
  return new Map(groups.map(({ brandKey, _count }) => [brandKey, _count._all]));
}
