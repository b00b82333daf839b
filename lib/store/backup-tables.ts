import { type Db, dialectOf, type Store } from "./client";

/** How a column's values are written in a backup: as JSON has them, as an ISO instant, as base64, or as JSON within JSON. */
export type BackupKind = "plain" | "boolean" | "instant" | "bytes" | "json";

export interface BackupColumn {
  readonly name: string;
  readonly kind: BackupKind;
}

export interface BackupTable {
  readonly name: string;
  readonly columns: readonly BackupColumn[];
}

/**
 * Signed-in sessions and what guards the sign-in are of the moment: after a restore everybody signs in anew. Site packs are made again
 * from what is restored.
 */
const leftOut: readonly string[] = ["Session", "Verification", "RateLimit", "SignInAttempt", "SitePack"];

const kinds: Readonly<Record<string, BackupKind>> = { Boolean: "boolean", DateTime: "instant", Bytes: "bytes", Json: "json" };

interface ModelShape {
  readonly models: Readonly<Record<string, { readonly fields: readonly { name: string; kind: string; type: string }[] }>>;
}

interface Reference {
  readonly child: string;
  readonly parent: string;
}

const referencesSql = {
  sqlite: `SELECT m.name AS child, f."table" AS parent FROM sqlite_master m, pragma_foreign_key_list(m.name) f WHERE m.type = 'table'`,
  postgresql: `SELECT child.relname AS child, parent.relname AS parent FROM pg_constraint c
    JOIN pg_class child ON child.oid = c.conrelid JOIN pg_class parent ON parent.oid = c.confrelid WHERE c.contype = 'f'`,
};

async function parentsOf(db: Db): Promise<Map<string, Set<string>>> {
  const rows = await db.$queryRawUnsafe<Reference[]>(referencesSql[dialectOf(db)]);
  const parents = new Map<string, Set<string>>();
  for (const { child, parent } of rows) if (child !== parent) parents.set(child, (parents.get(child) ?? new Set()).add(parent));
  return parents;
}

/** Names in an order in which every table comes after those that its rows point to. Throws when there is a ring. */
export function afterTheirParents(names: readonly string[], parents: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const ordered = new Set<string>();
  while (ordered.size < names.length) {
    const next = names.filter((name) => !ordered.has(name) && [...(parents.get(name) ?? [])].every((parent) => ordered.has(parent)));
    if (next.length === 0) throw new Error("Some tables point at each other in a ring: they cannot be restored one after the other.");
    for (const name of next) ordered.add(name);
  }
  return [...ordered];
}

/** The tables that a backup holds, each after those that its rows point to. */
export async function backupTables(db: Store): Promise<BackupTable[]> {
  const { models } = Reflect.get(db, "_runtimeDataModel") as ModelShape;
  const names = Object.keys(models).filter((name) => !leftOut.includes(name));
  return afterTheirParents(names.sort(), await parentsOf(db)).map((name) => ({
    name,
    columns: (models[name]?.fields ?? [])
      .filter(({ kind }) => kind !== "object")
      .map((field) => ({ name: field.name, kind: kinds[field.type] ?? "plain" })),
  }));
}
