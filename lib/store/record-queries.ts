import type { Db } from "./client";
import { idsAtOnce } from "./id-parts";
import { findPersonNames } from "./place-name-queries";

/** The latest entries of the record about some things, the latest first, with the names of who acted and how many there are. */
export async function entriesAbout(
  db: Db,
  { organisationId, ids, take }: { readonly organisationId: string; readonly ids: readonly string[]; readonly take: number },
) {
  const where = { organisationId, subjectId: { in: ids.slice(0, idsAtOnce) } };
  const select = { number: true, at: true, actor: true, what: true, hash: true, previousHash: true } as const;
  const [rows, total] = await Promise.all([
    db.recordEntry.findMany({ where, select, orderBy: { number: "desc" }, take }),
    db.recordEntry.count({ where }),
  ]);
  const names = await findPersonNames(
    db,
    rows.map(({ actor }) => actor),
  );
  return { rows, total, names };
}
