import { createReadStream } from "node:fs";
import { readRating } from "@/lib/electrical/read-rating";
import { openCsvFile } from "@/lib/registry/csv-source";
import { guessMapping, type LabelRow, labelRowReader } from "@/lib/registry/label-row";
import { guessPlaceMapping, type PlaceRow, readPlaceRow } from "@/lib/registry/place-row";
import type { PlannedOutlet } from "@/lib/watch/outlet-plan";
import type { ScreenedAppliance } from "@/lib/watch/screened-appliance";

/** Rows of a file, and what stood in the way of others, a sentence each. */
export interface PlanFile<Row> {
  readonly rows: readonly Row[];
  readonly aside: readonly string[];
}

/** Opens a path for reading; `-` is standard input. */
export function openInput(path: string): NodeJS.ReadableStream & AsyncIterable<Uint8Array> {
  return (path === "-" ? process.stdin : createReadStream(path, { highWaterMark: 1 << 20 })) as NodeJS.ReadableStream &
    AsyncIterable<Uint8Array>;
}

interface RowReading<Row> {
  readonly row: Row;
  readonly problems: readonly { readonly column: string; readonly problem: string; readonly mended?: unknown }[];
}

async function readFile<Row>(
  path: string,
  readerOf: (headers: readonly string[]) => (record: Readonly<Record<string, string>>) => RowReading<Row>,
): Promise<PlanFile<Row>> {
  const file = await openCsvFile(openInput(path));
  const read = readerOf(file.headers);
  const rows: Row[] = [];
  const aside: string[] = [];
  for await (const batch of file.batches) {
    for (const { line, record, problem } of batch) {
      if (problem !== null) {
        aside.push(`${problem} The row is set aside.`);
        continue;
      }
      const { row, problems } = read(record);
      rows.push(row);
      for (const found of problems) if (found.mended === undefined) aside.push(`Line ${line}, ${found.column}: ${found.problem}`);
    }
  }
  return { rows, aside };
}

function plannedOutlet(row: PlaceRow, zone: string | null): PlannedOutlet[] {
  if (row.outlet === null) return [];
  const { unit, circuit, deviceAmps, volts, leg, outlet, outletAmps } = row;
  return [
    {
      site: row.site ?? "",
      timeZone: row.timeZone ?? zone,
      unit,
      circuit,
      deviceAmps,
      volts,
      leg,
      outlet,
      outletAmps,
      receptacles: row.receptacles ?? 1,
    },
  ];
}

/** What a later row of the same outlet leaves empty stays as the earlier one said. */
function mergedOutlets(outlets: readonly PlannedOutlet[]): PlannedOutlet[] {
  const byName = new Map<string, PlannedOutlet>();
  for (const outlet of outlets) {
    const earlier = byName.get(outlet.outlet);
    const said = Object.fromEntries(Object.entries(outlet).filter(([, value]) => value !== null));
    byName.set(outlet.outlet, earlier === undefined ? outlet : { ...earlier, ...said });
  }
  return [...byName.values()];
}

/** Reads the places file into the plan of outlets; `zone` stands in where a site names none. */
export async function readPlaces(path: string, zone: string | null): Promise<PlanFile<PlannedOutlet>> {
  const { rows, aside } = await readFile<PlaceRow>(path, (headers) => {
    const mapping = guessPlaceMapping(headers);
    return (record) => readPlaceRow(record, mapping);
  });
  return { rows: mergedOutlets(rows.flatMap((row) => plannedOutlet(row, zone))), aside };
}

/** Rows with the same tag are one appliance; an empty cell never erases what is known. */
function mergedLabels(rows: readonly LabelRow[]): LabelRow[] {
  const byTag = new Map<string, LabelRow>();
  const untagged: LabelRow[] = [];
  for (const row of rows) {
    if (row.tag === null) untagged.push(row);
    else {
      const said = Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null));
      byTag.set(row.tag, { ...(byTag.get(row.tag) ?? row), ...said });
    }
  }
  return [...byTag.values(), ...untagged];
}

/** Reads the labels file into the appliances to be screened, each with its rating from columns and plate text. */
export async function readAppliances(path: string): Promise<PlanFile<ScreenedAppliance>> {
  const { rows, aside } = await readFile<LabelRow>(path, (headers) => labelRowReader(guessMapping(headers)));
  const appliances = mergedLabels(rows).map((row) => {
    const { tag, site, outlet, receptacle, category } = row;
    return { tag: tag ?? "", site, outlet, receptacle, category, rating: readRating(row) };
  });
  return { rows: appliances, aside };
}
