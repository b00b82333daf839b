import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { setTimeout as sleep } from "node:timers/promises";
import type { Actor } from "@/lib/access/actor";
import { readSitePack } from "@/lib/documents/site-pack";
import { sitePackPdf } from "@/lib/documents/site-pack-pdf";
import { sitePackTables } from "@/lib/documents/site-pack-tables";
import { sitePackJob, sitePackKind } from "@/lib/jobs/site-pack-job";
import { askSitePack, viewSitePacks } from "@/lib/jobs/site-packs";
import { type JobWork, runNextJob } from "@/lib/jobs/worker";
import { loadNotices } from "@/lib/notices/notices.run";
import { csvLine } from "@/lib/registry/csv-line";
import { loadLabels } from "@/lib/registry/labels-import";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { prepareStore } from "@/lib/store/prepare";
import { makeActor, makeOrganisation } from "../../seed/builders";
import { makeChance } from "../../seed/chance";
import { families } from "../../seed/makers";
import { asFile, type ListRow, plainList } from "../../seed/recall-builders";
import type { Bench } from "./bench-result";
import { type Took, timed } from "./stopwatch";

const day = "2026-03-10";
const now = new Date("2026-03-10T12:00:00Z");
const unitCount = 500;

async function makeBuilding(db: Store, organisationId: string): Promise<string> {
  const siteId = newId();
  const place = { organisationId, siteId };
  await db.site.create({
    data: { id: siteId, organisationId, name: "Kestrel Court", nameKey: "kestrel court", timeZone: "America/Chicago", nominalVolts: 120 },
  });
  const units = Array.from({ length: unitCount }, (_, i) => ({ ...place, id: newId(), name: `${1000 + i}`, nameKey: `${1000 + i}` }));
  await db.unit.createMany({ data: units });
  const circuits = units.flatMap(({ id, name }) =>
    ["K", "L"].map((letter) => {
      const text = `${name}-${letter}`;
      return { ...place, id: newId(), unitId: id, name: text, nameKey: text.toLowerCase(), deviceAmps: 20, volts: 120, leg: "1" };
    }),
  );
  await db.circuit.createMany({ data: circuits });
  const outlets = circuits.map(({ id, unitId, name, nameKey }) => {
    return { ...place, id: newId(), unitId, circuitId: id, name: `KC-${name}`, nameKey: `kc-${nameKey}`, outletAmps: 20, receptacles: 2 };
  });
  await db.outlet.createMany({ data: outlets });
  const hours = outlets.flatMap(({ id }, i) =>
    Array.from({ length: 24 }, (_, hour) => ({
      ...{ organisationId, outletId: id, receptacle: "1", at: new Date(now.getTime() - hour * 3_600_000), readings: 60 },
      ...{ meanVolts: 120, meanAmps: ((i * 7 + hour * 3) % 230) / 10, meanWatts: null },
    })),
  );
  for (let at = 0; at < hours.length; at += 500) await db.drawHour.createMany({ data: hours.slice(at, at + 500) });
  return siteId;
}

async function bringIn(db: Store, actor: Actor, appliances: number): Promise<void> {
  const chance = makeChance(7);
  const columns = ["tag", "site", "unit", "outlet", "receptacle", "category", "brand", "model", "serial", "rated_volts", "rated_watts"];
  const lines = Array.from({ length: appliances }, (_, i) => {
    const { category, maker, models, serialLetters, watts } = chance.pick(families);
    const [unit, circuit] = [1000 + (i % unitCount), i % 2 === 0 ? "K" : "L"];
    const place = [`T-${10000 + i}`, "Kestrel Court", unit, `KC-${unit}-${circuit}`, String(1 + (Math.floor(i / 2) % 2))];
    return csvLine([...place, category, maker, chance.pick(models), `${serialLetters}${i}`, "120", watts]);
  });
  await loadLabels(db, actor, { source: asFile([csvLine(columns), ...lines].join("\r\n")) as never, fileName: "labels.csv", now });
  const notices: ListRow[] = families.flatMap(({ maker, category, models }, i) => {
    const title = `${maker} Recalls ${category} Due to Fire and Shock Hazards`;
    const row = { source: "Office of Product Safety", date: "2026-02-01", title, brand: maker, product: category, hazard: "Fire hazard." };
    return [
      { ...row, number: `26-${100 + i}`, models: models[0] ?? "" },
      { ...row, number: `26-${500 + i}`, models: "" },
    ];
  });
  await loadNotices(db, actor, { source: asFile(plainList(notices)), fileName: "list.csv", now });
}

async function took<T>(work: () => Promise<T>): Promise<[Took, T]> {
  const results: T[] = [];
  const time = await timed(async () => results.push(await work()));
  return [time, results[0] as T];
}

interface Asked {
  readonly db: Store;
  readonly actor: Actor;
  readonly siteId: string;
}

/** The parts of the work by themselves: gathered, drawn, its tables. */
async function measureParts({ db, actor, siteId }: Asked) {
  const [read, pack] = await took(() => readSitePack(db, actor, { siteId, day, now }));
  const [draw, document] = await took(() => sitePackPdf(pack));
  const tables = await timed(() => sitePackTables(pack));
  return { ms: { read_ms: read.ms, draw_ms: draw.ms, tables_ms: tables.ms }, bytes: document?.bytes.length ?? 0 };
}

/** The job, from asking to keeping: how long it takes, how often it tells its progress, and how long others wait at most meanwhile. */
async function measureJob({ db, actor, siteId }: Asked) {
  await askSitePack(db, actor, { siteId, day, now });
  let told = 0;
  const work: JobWork = (store, handle) => {
    const advance = async (done: number, total: number | null) => {
      told += 1;
      await handle.advance(done, total);
    };
    return sitePackJob(store, { ...handle, advance });
  };
  const delay = monitorEventLoopDelay({ resolution: 5 });
  delay.enable();
  const { ms, cpuMs } = await timed(() => runNextJob(db, { [sitePackKind]: work }, () => now));
  // A wait is seen only when the process comes to its turn again.
  await sleep(20);
  delay.disable();
  const [kept] = (await viewSitePacks(db, actor, { siteId, now })).packs;
  if (!kept) throw new Error("The job kept no pack.");
  return { ms: { job_ms: ms, job_cpu_ms: cpuMs, longest_wait_ms: delay.max / 1e6 }, told, rows: kept.rows, pages: kept.pages };
}

/** The pack of a site of 5,000 appliances. */
export const bench: Bench = async ({ small }) => {
  const appliances = small ? 500 : 5000;
  const folder = mkdtempSync(join(tmpdir(), "pw-bench-pack-"));
  const db = await prepareStore(`file:${join(folder, "pack.db")}`);
  try {
    const { id: organisationId } = await makeOrganisation(db);
    const actor = await makeActor(db, organisationId);
    const siteId = await makeBuilding(db, organisationId);
    await bringIn(db, actor, appliances);
    const parts = await measureParts({ db, actor, siteId });
    const { ms, ...job } = await measureJob({ db, actor, siteId });
    const ours = { ...parts.ms, ...ms };
    return [{ bench: "pack", measure: "a site's pack from asking to keeping", ours, n: appliances, bytes: parts.bytes, ...job }];
  } finally {
    await db.$disconnect();
    rmSync(folder, { recursive: true, force: true });
  }
};
