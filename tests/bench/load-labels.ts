import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable } from "node:stream";
import Database from "better-sqlite3";
import Papa from "papaparse";
import { commandLineActor } from "@/lib/access/actor";
import { csvLine } from "@/lib/registry/csv-line";
import { labelColumns } from "@/lib/registry/label-columns";
import { loadLabels } from "@/lib/registry/labels-import";
import { newId } from "@/lib/store/ids";
import { migrate } from "@/lib/store/migrate";
import { prepareStore } from "@/lib/store/prepare";
import type { Bench, BenchResult } from "./bench-result";

/** A small seeded generator (Park and Miller's minimal standard), so that every run has the same rows. */
function seeded(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

const makers = ["Keldamar", "Ostrel", "Pellwick", "Brontide", "Larkfield"];
const kinds = ["space heater", "kettle", "toaster", "fan", "desk lamp", "microwave oven"];

/** Invented labels: 5 sites of 400 units, a third of the ratings in the plate's text only, one appliance in ten without a tag. */
function labelsFile(rows: number): Buffer {
  const random = seeded(20260101);
  const lines = [csvLine(labelColumns)];
  for (let at = 0; at < rows; at++) {
    const watts = 300 + random(60) * 25;
    const inText = random(3) === 0;
    const model = `HT-${1000 + random(400)}C`;
    const serial = `SN${100000000 + at * 7 + random(7)}`;
    lines.push(
      csvLine([
        random(10) === 0 ? "" : `T-${100000 + at}`,
        `Kestrel Court ${at % 5}`,
        String(Math.floor(at / 5) % 400).padStart(4, "0"),
        "",
        "",
        kinds[random(kinds.length)] ?? "",
        makers[random(makers.length)] ?? "",
        model,
        serial,
        `${2010 + random(15)}-0${1 + random(9)}`,
        inText ? "" : "120",
        inText ? "" : "60",
        inText ? "" : String(watts),
        "",
        inText ? `120V~ 60Hz ${watts}W` : "",
        "II",
        "",
        "",
        "",
        `owner ${random(50)}`,
        "",
        "",
      ]),
    );
  }
  return Buffer.from(`${lines.join("\n")}\n`);
}

const pieces = (bytes: Buffer) => Readable.from(inPieces(bytes));

function* inPieces(bytes: Buffer): Generator<Buffer> {
  for (let at = 0; at < bytes.length; at += 256 * 1024) yield bytes.subarray(at, at + 256 * 1024);
}

const newRows = ["Appliance", "Placement", "TagCode"] as const;

/** Reads every row of the tables that a load filled, in the order they were written. */
function writtenRows(file: string): Map<string, unknown[][]> {
  const db = new Database(file, { readonly: true });
  const rows = newRows.map((table) => [table, db.prepare(`SELECT * FROM "${table}" ORDER BY rowid`).raw().all() as unknown[][]] as const);
  db.close();
  return new Map(rows);
}

function parseAll(bytes: Buffer, take: (cells: string[]) => void): void {
  let isHeader = true;
  Papa.parse<string[]>(bytes.toString("utf8"), {
    skipEmptyLines: true,
    step: ({ data }) => {
      if (!isHeader) take(data);
      isHeader = false;
    },
  });
}

/** The same file parsed and the very rows that our load writes inserted into the registry's own tables, without any judgement. */
async function bareInserts(bytes: Buffer, folder: string, rows: ReadonlyMap<string, unknown[][]>): Promise<{ ms: number; rows: number }> {
  const file = join(folder, "bare.db");
  await migrate(`file:${file}`);
  const db = new Database(file);
  db.pragma("foreign_keys = OFF");
  const begin = performance.now();
  let parsed = 0;
  parseAll(bytes, () => {
    parsed += 1;
  });
  db.exec("BEGIN");
  for (const [table, values] of rows) {
    const insert = db.prepare(`INSERT INTO "${table}" VALUES (${values[0]?.map(() => "?").join(", ")})`);
    for (const row of values) insert.run(row);
  }
  db.exec("COMMIT");
  const ms = performance.now() - begin;
  db.close();
  return { ms, rows: parsed };
}

/** Every cell parsed and stored as text in one table without an index: the least that could be done with the file. */
function plainTable(bytes: Buffer, folder: string): number {
  const db = new Database(join(folder, "plain.db"));
  db.pragma("journal_mode = WAL");
  const begin = performance.now();
  db.exec(`CREATE TABLE "label" (${labelColumns.map((column) => `"${column}" TEXT`).join(", ")})`);
  const insert = db.prepare(`INSERT INTO "label" VALUES (${labelColumns.map(() => "?").join(", ")})`);
  db.exec("BEGIN");
  parseAll(bytes, (cells) => insert.run(cells));
  db.exec("COMMIT");
  const ms = performance.now() - begin;
  db.close();
  return ms;
}

interface OurLoad {
  readonly ms: number;
  readonly rows: number;
  readonly againMs: number;
  readonly peakMb: number;
  readonly written: Map<string, unknown[][]>;
}

async function ourLoad(bytes: Buffer, folder: string): Promise<OurLoad> {
  const db = await prepareStore(`file:${join(folder, "ours.db")}`);
  const now = new Date("2026-01-05T08:00:00Z");
  const organisationId = newId();
  await db.organisation.create({ data: { id: organisationId, name: "Linden Estates" } });
  const actor = commandLineActor(organisationId);
  let peak = 0;
  const load = async () => {
    const begin = performance.now();
    const account = await loadLabels(db, actor, {
      source: pieces(bytes),
      fileName: "labels.csv",
      now,
      onProgress: () => {
        peak = Math.max(peak, process.memoryUsage().rss);
      },
    });
    return { ms: performance.now() - begin, account };
  };
  const first = await load();
  const again = await load();
  if (again.account.unchanged !== first.account.rowsRead) throw new Error("The same file twice must change nothing.");
  const rows = await db.appliance.count();
  await db.$disconnect();
  const written = writtenRows(join(folder, "ours.db"));
  return { ms: first.ms, rows, againMs: again.ms, peakMb: Math.round(peak / 2 ** 20), written };
}

/**
 * Bringing labels into an empty registry against parsing the same file and inserting the same rows, prepared, in one transaction,
 * into the same tables; one run each in one process, after a warm-up of 2,000 rows. Beside it the least that could be done.
 */
export const bench: Bench = async ({ small }): Promise<BenchResult[]> => {
  const rows = small ? 10_000 : 100_000;
  const inFolder = async <T>(work: (folder: string) => Promise<T> | T): Promise<T> => {
    const folder = mkdtempSync(join(tmpdir(), "pw-bench-"));
    try {
      return await work(folder);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  };
  const warm = labelsFile(2_000);
  const warmed = await inFolder((folder) => ourLoad(warm, folder));
  await inFolder((folder) => bareInserts(warm, folder, warmed.written));
  await inFolder((folder) => plainTable(warm, folder));
  const bytes = labelsFile(rows);
  const ours = await inFolder((folder) => ourLoad(bytes, folder));
  const theirs = await inFolder((folder) => bareInserts(bytes, folder, ours.written));
  const plainMs = await inFolder((folder) => plainTable(bytes, folder));
  if (theirs.rows !== rows || ours.rows !== rows) throw new Error(`Not all rows arrived: ${theirs.rows} and ${ours.rows} of ${rows}.`);
  const ratio = (ms: number) => Math.round((ours.ms / ms) * 100) / 100;
  return [
    {
      bench: "load-labels",
      measure: `${rows} rows / papaparse + bare prepared inserts of the same rows into the same tables, one transaction`,
      ratio: ratio(theirs.ms),
      ours: { ms: Math.round(ours.ms), again: Math.round(ours.againMs), peakMb: ours.peakMb },
      theirs: { ms: Math.round(theirs.ms) },
      plainTable: { ms: Math.round(plainMs), ratio: ratio(plainMs) },
      n: rows,
    },
  ];
};
