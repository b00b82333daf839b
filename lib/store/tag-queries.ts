import { bulkInsert } from "./bulk";
import type { Db } from "./client";
import type { TagCode } from "./generated/sqlite/client";

/** The tag's entry among all codes ever issued or used; null when it never was. */
export function findTagCode(db: Db, organisationId: string, tagKey: string): Promise<TagCode | null> {
  return db.tagCode.findUnique({ where: { organisationId_tagKey: { organisationId, tagKey } } });
}

/** Enters codes; returns how many were new. One that is already there is left as it is. */
export function enterTagCodes(
  tx: Db,
  organisationId: string,
  codes: readonly { readonly tagKey: string; readonly applianceId: string | null }[],
  at: Date,
): Promise<number> {
  return bulkInsert(tx, {
    table: "TagCode",
    columns: [
      { name: "organisationId", type: "text" },
      { name: "tagKey", type: "text" },
      { name: "applianceId", type: "text" },
      { name: "issuedAt", type: "timestamp" },
    ],
    rows: codes.map(({ tagKey, applianceId }) => [organisationId, tagKey, applianceId, at]),
    onConflict: { key: ["organisationId", "tagKey"] },
  });
}

/** Ties an issued code to the appliance that carries it. */
export async function tieTagCode(tx: Db, organisationId: string, tagKey: string, applianceId: string): Promise<void> {
  await tx.tagCode.update({ where: { organisationId_tagKey: { organisationId, tagKey } }, data: { applianceId } });
}

/** Ends a code for good: it will not be issued or taken again. */
export async function voidTagCode(tx: Db, organisationId: string, tagKey: string, at: Date): Promise<void> {
  await tx.tagCode.updateMany({ where: { organisationId, tagKey }, data: { voidedAt: at } });
}
