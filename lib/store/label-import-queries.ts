import { type BulkColumn, type BulkValue, bulkInsert, bulkUpdate } from "./bulk";
import type { Db } from "./client";

const knownColumns = {
  id: true,
  tag: true,
  tagKey: true,
  siteId: true,
  unitId: true,
  outletId: true,
  receptacle: true,
  category: true,
  brand: true,
  model: true,
  serial: true,
  made: true,
  dateCode: true,
  ratedVolts: true,
  ratedHertz: true,
  ratedWatts: true,
  ratedAmps: true,
  labelText: true,
  protectionClass: true,
  maxLampWatts: true,
  mark: true,
  upc: true,
  owner: true,
  notes: true,
  sameRowKey: true,
  sameRowOrdinal: true,
  rowHash: true,
  version: true,
} as const;

export function findAppliancesByTag(db: Db, organisationId: string, tagKeys: string[]) {
  return db.appliance.findMany({ where: { organisationId, tagKey: { in: tagKeys } }, select: knownColumns });
}

/** What an import needs to know of an appliance that is already there. */
export type KnownAppliance = Awaited<ReturnType<typeof findAppliancesByTag>>[number];

/** Appliances by the key of the row they came from; several may share one, the oldest first. */
export function findAppliancesBySameRow(db: Db, organisationId: string, sameRowKeys: string[]): Promise<KnownAppliance[]> {
  return db.appliance.findMany({
    where: { organisationId, sameRowKey: { in: sameRowKeys } },
    select: knownColumns,
    orderBy: [{ createdAt: "asc" }, { id: "asc" }],
  });
}

export function findTagCodes(db: Db, organisationId: string, tagKeys: string[]) {
  return db.tagCode.findMany({ where: { organisationId, tagKey: { in: tagKeys } } });
}

/** An appliance as the import writes it. */
export interface ApplianceDraft {
  readonly id: string;
  readonly tag: string;
  readonly tagKey: string;
  readonly tagIssued: boolean;
  readonly siteId: string;
  readonly unitId: string | null;
  readonly outletId: string | null;
  readonly receptacle: string | null;
  readonly category: string | null;
  readonly brand: string | null;
  readonly model: string | null;
  readonly serial: string | null;
  readonly made: string | null;
  readonly dateCode: string | null;
  readonly ratedVolts: string | null;
  readonly ratedHertz: string | null;
  readonly ratedWatts: number | null;
  readonly ratedAmps: number | null;
  readonly labelText: string | null;
  readonly protectionClass: string | null;
  readonly maxLampWatts: string | null;
  readonly mark: string | null;
  readonly upc: string | null;
  readonly owner: string | null;
  readonly notes: string | null;
  readonly inputWatts: number | null;
  readonly inputAmps: number | null;
  readonly allowedWatts: number | null;
  readonly allowedAmps: number | null;
  readonly contradictions: string | null;
  readonly searchText: string;
  readonly brandKey: string;
  readonly modelKey: string;
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
  "siteId",
  "unitId",
  "outletId",
  "receptacle",
  "category",
  "brand",
  "model",
  "serial",
  "made",
  "dateCode",
  "ratedVolts",
  "ratedHertz",
  "ratedWatts",
  "ratedAmps",
  "labelText",
  "protectionClass",
  "maxLampWatts",
  "mark",
  "upc",
  "owner",
  "notes",
  "inputWatts",
  "inputAmps",
  "allowedWatts",
  "allowedAmps",
  "contradictions",
  "searchText",
  "brandKey",
  "modelKey",
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
  const fixed: BulkColumn[] = [
    { name: "organisationId", type: "text" },
    { name: "state", type: "text", enumName: "ApplianceState" },
    { name: "createdAt", type: "timestamp" },
    { name: "updatedAt", type: "timestamp" },
  ];
  await bulkInsert(db, {
    table: "Appliance",
    columns: [...names.map(columnOf), ...fixed],
    rows: drafts.map((draft) => [...names.map((name): BulkValue => draft[name]), organisationId, "in_use", at, at]),
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
      { name: "organisationId", type: "text" },
      { name: "tagKey", type: "text" },
      { name: "applianceId", type: "text" },
      { name: "issuedAt", type: "timestamp" },
    ],
    rows: codes.map(({ tagKey, applianceId }) => [organisationId, tagKey, applianceId, at]),
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
    columns: [
      ...["id", "organisationId", "applianceId", "siteId", "unitId", "outletId", "receptacle"].map(
        (name): BulkColumn => ({ name, type: "text" }),
      ),
      { name: "fromAt", type: "timestamp" },
      { name: "source", type: "text" },
    ],
    rows: placements.map((place) => [
      place.id,
      organisationId,
      place.applianceId,
      place.siteId,
      place.unitId,
      place.outletId,
      place.receptacle,
      at,
      "labels",
    ]),
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
