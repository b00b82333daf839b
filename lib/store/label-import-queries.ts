import { type LabelFactName, labelFactColumns, labelFactNames, type PlaceName, placeColumns, placeNames } from "./appliance-selects";
import { type BulkColumn, type BulkValue, bulkInsert, bulkUpdate } from "./bulk";
import type { Db } from "./client";
import type { Appliance } from "./rows";
import { inTextList, textParameter } from "./text-list";

const knownColumns = {
  id: true,
  tag: true,
  tagKey: true,
  ...placeColumns,
  ...labelFactColumns,
  sameRowKey: true,
  sameRowOrdinal: true,
  rowHash: true,
  version: true,
} as const;

/** What an import needs to know of appliances that it may change. */
export function findKnownAppliances(db: Db, ids: string[]) {
  return db.appliance.findMany({ where: { id: { in: ids } }, select: knownColumns });
}

export type KnownAppliance = Awaited<ReturnType<typeof findKnownAppliances>>[number];

/** Enough of an appliance to find it by a row and to tell whether that row says anything new. */
export type ApplianceHead = Pick<KnownAppliance, "id" | "tag" | "tagKey" | "siteId" | "sameRowKey" | "sameRowOrdinal" | "rowHash">;

function findHeads(db: Db, organisationId: string, column: "tagKey" | "sameRowKey", keys: readonly string[]): Promise<ApplianceHead[]> {
  return db.$queryRawUnsafe<ApplianceHead[]>(
    `SELECT "id", "tag", "tagKey", "siteId", "sameRowKey", "sameRowOrdinal", "rowHash" FROM "Appliance"
      WHERE "organisationId" = ${textParameter(db, 1)} AND ${inTextList(db, column, 2)} ORDER BY "createdAt", "id"`,
    organisationId,
    JSON.stringify(keys),
  );
}

export function findHeadsByTag(db: Db, organisationId: string, tagKeys: readonly string[]): Promise<ApplianceHead[]> {
  return findHeads(db, organisationId, "tagKey", tagKeys);
}

/** Appliances by the key of the row they came from; several may share one, the oldest first. */
export function findHeadsBySameRow(db: Db, organisationId: string, sameRowKeys: readonly string[]): Promise<ApplianceHead[]> {
  return findHeads(db, organisationId, "sameRowKey", sameRowKeys);
}

export function findTagCodes(db: Db, organisationId: string, tagKeys: string[]) {
  return db.tagCode.findMany({ where: { organisationId, tagKey: { in: tagKeys } } });
}

/** Those of the codes that were voided. */
export async function findVoidTagCodes(db: Db, organisationId: string, tagKeys: readonly string[]): Promise<string[]> {
  const found = await db.$queryRawUnsafe<{ tagKey: string }[]>(
    `SELECT "tagKey" FROM "TagCode"
      WHERE "organisationId" = ${textParameter(db, 1)} AND ${inTextList(db, "tagKey", 2)} AND "voidedAt" IS NOT NULL`,
    organisationId,
    JSON.stringify(tagKeys),
  );
  return found.map((code) => code.tagKey);
}

/** An appliance as the import writes it. */
export interface ApplianceDraft extends Pick<Appliance, LabelFactName | PlaceName> {
  readonly id: string;
  readonly tag: string;
  readonly tagKey: string;
  readonly tagIssued: boolean;
  readonly inputWatts: number | null;
  readonly inputAmps: number | null;
  readonly allowedWatts: number | null;
  readonly allowedAmps: number | null;
  readonly contradictions: string | null;
  readonly searchText: string;
  readonly brandKey: string;
  readonly modelKey: string;
  readonly foldedModel: string | null;
  readonly sameRowKey: string | null;
  readonly sameRowOrdinal: number | null;
  readonly rowHash: string;
  readonly contentHash: string;
  readonly version: number;
}

type DraftName = keyof ApplianceDraft;
const reals: readonly DraftName[] = ["ratedWatts", "ratedAmps", "inputWatts", "inputAmps", "allowedWatts", "allowedAmps"];
const integers: readonly DraftName[] = ["sameRowOrdinal", "version"];
const changing: readonly DraftName[] = [
  ...placeNames,
  ...labelFactNames,
  "inputWatts",
  "inputAmps",
  "allowedWatts",
  "allowedAmps",
  "contradictions",
  "searchText",
  "brandKey",
  "modelKey",
  "foldedModel",
  "sameRowKey",
  "sameRowOrdinal",
  "rowHash",
  "contentHash",
  "version",
];

function columnOf(name: DraftName): BulkColumn {
  if (name === "tagIssued") return { name, type: "boolean" };
  return { name, type: reals.includes(name) ? "real" : integers.includes(name) ? "integer" : "text" };
}

/** The names that hold anything in these rows; what is null in all of them needs no column. */
function usedNames(names: readonly DraftName[], drafts: readonly ApplianceDraft[]): DraftName[] {
  return names.filter((name) => drafts.some((draft) => draft[name] !== null));
}

export async function insertAppliances(db: Db, organisationId: string, drafts: readonly ApplianceDraft[], at: Date): Promise<void> {
  if (drafts.length === 0) return;
  const names = usedNames(["id", "tag", "tagKey", "tagIssued", ...changing], drafts);
  await bulkInsert(db, {
    table: "Appliance",
    columns: names.map(columnOf),
    rows: drafts.map((draft) => names.map((name): BulkValue => draft[name])),
    same: [
      { name: "organisationId", type: "text", value: organisationId },
      { name: "state", type: "text", enumName: "ApplianceState", value: "in_use" },
      { name: "createdAt", type: "timestamp", value: at },
      { name: "updatedAt", type: "timestamp", value: at },
    ],
  });
}

export async function updateAppliances(db: Db, drafts: readonly ApplianceDraft[], at: Date): Promise<void> {
  await bulkUpdate(db, {
    table: "Appliance",
    columns: [columnOf("id"), ...changing.map(columnOf), { name: "updatedAt", type: "timestamp" }],
    rows: drafts.map((draft) => [draft.id, ...changing.map((name): BulkValue => draft[name]), at]),
  });
}

/** Notes the codes as used for ever; those already noted stay as they are. */
export async function insertTagCodes(
  db: Db,
  organisationId: string,
  codes: readonly { tagKey: string; applianceId: string }[],
  at: Date,
): Promise<void> {
  await bulkInsert(db, {
    table: "TagCode",
    columns: [
      { name: "tagKey", type: "text" },
      { name: "applianceId", type: "text" },
    ],
    rows: codes.map(({ tagKey, applianceId }) => [tagKey, applianceId]),
    same: [
      { name: "organisationId", type: "text", value: organisationId },
      { name: "issuedAt", type: "timestamp", value: at },
    ],
    onConflict: { key: ["organisationId", "tagKey"] },
  });
}

export interface PlacementDraft {
  readonly id: string;
  readonly applianceId: string;
  readonly siteId: string;
  readonly unitId: string | null;
  readonly outletId: string | null;
  readonly receptacle: string | null;
}

/** Begins stays at the places a labels file names; a stay that was running ends with it. */
export async function beginPlacements(
  db: Db,
  organisationId: string,
  placements: readonly PlacementDraft[],
  moved: readonly string[],
  at: Date,
): Promise<void> {
  if (moved.length > 0) {
    await db.placement.updateMany({ where: { organisationId, applianceId: { in: [...moved] }, toAt: null }, data: { toAt: at } });
  }
  await bulkInsert(db, {
    table: "Placement",
    columns: ["id", "applianceId", "siteId", "unitId", "outletId", "receptacle"].map((name): BulkColumn => ({ name, type: "text" })),
    rows: placements.map(({ id, applianceId, siteId, unitId, outletId, receptacle }) => [
      id,
      applianceId,
      siteId,
      unitId,
      outletId,
      receptacle,
    ]),
    same: [
      { name: "organisationId", type: "text", value: organisationId },
      { name: "fromAt", type: "timestamp", value: at },
      { name: "source", type: "text", value: "labels" },
    ],
  });
}

/** Notes what the last file said of appliances that it did not change, and by which row it will be known again. */
export async function updateSaid(
  db: Db,
  rows: readonly { id: string; rowHash: string | null; sameRowKey: string | null; sameRowOrdinal: number | null }[],
): Promise<void> {
  const columns = (["id", "rowHash", "sameRowKey", "sameRowOrdinal"] as const).map(columnOf);
  await bulkUpdate(db, {
    table: "Appliance",
    columns,
    rows: rows.map(({ id, rowHash, sameRowKey, sameRowOrdinal }) => [id, rowHash, sameRowKey, sameRowOrdinal]),
  });
}
