import { applianceColumns, type LabelFacts } from "@/lib/registry/appliance-columns";
import type { Db } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";

/** A label of which nothing was read. */
export const unreadFacts: LabelFacts = {
  category: null,
  brand: null,
  model: null,
  serial: null,
  made: null,
  dateCode: null,
  ratedVolts: null,
  ratedHertz: null,
  ratedWatts: null,
  ratedAmps: null,
  labelText: null,
  protectionClass: null,
  maxLampWatts: null,
  mark: null,
  upc: null,
  owner: null,
  notes: null,
};

/** An appliance stored as the registry stores it, with what is given of its plate. */
export async function makeAppliance(
  db: Db,
  at: { readonly organisationId: string; readonly siteId: string; readonly unitId?: string },
  tag: string,
  facts: Partial<LabelFacts> = {},
) {
  const all = { ...unreadFacts, ...facts };
  const columns = applianceColumns(tag, all, 120);
  const now = new Date("2026-03-01T08:00:00Z");
  return db.appliance.create({ data: { ...all, id: newId(), ...at, tag, ...columns, createdAt: now, updatedAt: now } });
}

/** A row of a plain recall list; what is not given stays empty. */
export interface ListRow {
  readonly source?: string;
  readonly number: string;
  readonly date?: string;
  readonly title?: string;
  readonly brand?: string;
  readonly product?: string;
  readonly models?: string;
  readonly serials?: string;
  readonly made_from?: string;
  readonly made_to?: string;
  readonly upc?: string;
  readonly hazard?: string;
  readonly remedy?: string;
  readonly url?: string;
  readonly description?: string;
}

const listColumns = [
  "source",
  "number",
  "date",
  "title",
  "brand",
  "product",
  "models",
  "serials",
  "made_from",
  "made_to",
  "upc",
  "hazard",
  "remedy",
  "url",
  "description",
] as const satisfies readonly (keyof ListRow)[];

/** A plain recall list as a file prints it. */
export function plainList(rows: readonly ListRow[]): string {
  const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
  const lines = rows.map((row) => listColumns.map((column) => quoted(row[column] ?? "")).join(","));
  return [listColumns.join(","), ...lines].join("\r\n");
}

/** Text as a file that is read piece by piece. */
export async function* asFile(text: string): AsyncGenerator<Uint8Array> {
  const bytes = Buffer.from(text);
  for (let at = 0; at < bytes.length; at += 4096) yield bytes.subarray(at, at + 4096);
}
