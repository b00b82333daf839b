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
export function labelsFile(rows: number): Buffer {
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

/** What is read and written at the very least: every cell parsed and stored, in one transaction, without any judgement. */
function bareInserts(bytes: Buffer, folder: string): { ms: number; rows: number } {
  const db = new Database(join(folder, "bare.db"));
  db.pragma("journal_mode = WAL");
  const begin = performance.now();
  db.exec(`CREATE TABLE "label" (${labelColumns.map((column) => `"${column}" TEXT`).join(", ")})`);
  const insert = db.prepare(`INSERT INTO "label" VALUES (${labelColumns.map(() => "?").join(", ")})`);
  db.exec("BEGIN");
  let isHeader = true;
  Papa.parse<string[]>(bytes.toString("utf8"), {
    skipEmptyLines: true,
    step: ({ data }) => {
      if (!isHeader) insert.run(data);
      isHeader = false;
    },
  });
  db.exec("COMMIT");
  const ms = performance.now() - begin;
  const { rows } = db.prepare(`SELECT count(*) AS rows FROM "label"`).get() as { rows: number };
  db.close();
  return { ms, rows };
}

async function ourLoad(bytes: Buffer, folder: string): Promise<{ ms: number; rows: number; againMs: number; peakMb: number }> {
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
  return { ms: first.ms, rows, againMs: again.ms, peakMb: Math.round(peak / 2 ** 20) };
}

/** Bringing labels into an empty registry against the bare reading and writing of the same cells, in one process, one run each after a small warm-up. */
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
  await inFolder((folder) => bareInserts(warm, folder));
  await inFolder((folder) => ourLoad(warm, folder));
  const bytes = labelsFile(rows);
  const theirs = await inFolder((folder) => bareInserts(bytes, folder));
  const ours = await inFolder((folder) => ourLoad(bytes, folder));
  if (theirs.rows !== rows || ours.rows !== rows) throw new Error(`Not all rows arrived: ${theirs.rows} and ${ours.rows} of ${rows}.`);
  const round = (ms: number) => Math.round(ms);
  return [
    {
      bench: "load-labels",
      measure: `${rows} rows / papaparse + bare prepared inserts in one transaction`,
      ratio: Math.round((ours.ms / theirs.ms) * 100) / 100,
      ours: { ms: round(ours.ms), again: round(ours.againMs), peakMb: ours.peakMb },
      theirs: { ms: round(theirs.ms) },
      n: rows,
    },
  ];
};
