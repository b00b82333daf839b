import { mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { commandLineActor } from "@/lib/access/actor";
import { createApiKey } from "@/lib/access/api-keys";
import { SiteFollower } from "@/lib/registry/site-follow";
import { requireSiteTurn } from "@/lib/registry/site-turn";
import { bulkInsert } from "@/lib/store/bulk";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { openKeptPart, partsSince, readingKey } from "@/lib/store/kept-log-queries";
import { prepareStore } from "@/lib/store/prepare";
import { makeOrganisation, makeSite } from "@/seed/builders";
import { keptOpen, sendBatch, startIngest } from "../support/ingest-server";
import type { Bench, BenchResult } from "./bench-result";

const sites = 10;
const clientsASite = 5;
const outletsAClient = 10;
/** Readings of each outlet in a batch, a second apart. */
const secondsABatch = 2;
const startMs = Date.parse("2026-03-09T00:00:00Z");

interface Client {
  readonly siteId: string;
  readonly token: string;
  readonly outlets: readonly string[];
  batches: number;
}

/** Ten sites of 50 outlets, five gateways each. */
async function makeClients(db: Store): Promise<{ organisationId: string; clients: Client[] }> {
  const { id: organisationId } = await makeOrganisation(db, "Ingest Estates");
  const actor = commandLineActor(organisationId);
  const clients: Client[] = [];
  for (let at = 0; at < sites; at++) {
    const { site, unit, circuit } = await makeSite(db, organisationId, `Site ${at}`);
    const names = Array.from({ length: clientsASite * outletsAClient }, (_, i) => `S${at}-${i}`);
    const text = (name: string) => ({ name, type: "text" }) as const;
    await bulkInsert(db, {
      table: "Outlet",
      columns: [text("id"), text("name"), text("nameKey"), text("unitId"), text("circuitId"), { name: "createdAt", type: "timestamp" }],
      same: [
        { ...text("organisationId"), value: organisationId },
        { ...text("siteId"), value: site.id },
      ],
      rows: names.map((name) => [newId(), name, name.toLowerCase(), unit.id, circuit.id, new Date(startMs)]),
    });
    for (let client = 0; client < clientsASite; client++) {
      const { token } = await createApiKey(db, actor, { siteId: site.id, name: `gateway ${client}`, now: new Date(startMs) });
      const outlets = names.slice(client * outletsAClient, (client + 1) * outletsAClient);
      clients.push({ siteId: site.id, token, outlets, batches: 0 });
    }
  }
  return { organisationId, clients };
}

const rowsABatch = outletsAClient * secondsABatch;

function bodyOf({ outlets, batches }: Client): string {
  const lines = ["at,outlet,receptacle,watts,volts"];
  for (let second = 0; second < secondsABatch; second++) {
    const at = new Date(startMs + (batches * secondsABatch + second) * 1000).toISOString();
    for (const [i, outlet] of outlets.entries()) lines.push(`${at},${outlet},1,${50 + ((batches * 7 + second * 3 + i) % 200)},120`);
  }
  return lines.join("\n");
}

interface Measured {
  readonly millis: number[];
  readonly seconds: number;
  readonly refused: number;
}

/** Lets all clients send until the time is over; `everyMs` paces each, 0 sends one after the other as fast as answers come. */
async function run(
  port: number,
  clients: readonly Client[],
  { seconds, everyMs }: { seconds: number; everyMs: number },
): Promise<Measured> {
  const agent = keptOpen(clients.length);
  const millis: number[] = [];
  let refused = 0;
  const begun = performance.now();
  const end = begun + seconds * 1000;
  const work = async (client: Client, at: number) => {
    let due = begun + (everyMs * at) / clients.length;
    for (;;) {
      if (everyMs > 0) await new Promise((resolve) => setTimeout(resolve, Math.max(0, due - performance.now())));
      if (performance.now() >= end) return;
      const body = bodyOf(client);
      // From when it was due, so that waiting for a slow answer before it counts too.
      const from = everyMs > 0 ? due : performance.now();
      const { status, answer } = await sendBatch({ port, token: client.token, body, agent, batchId: `b${client.batches}` });
      due += everyMs;
      if (status === 503 || status === 429) {
        refused += 1;
        continue;
      }
      if (status !== 200 || answer.accepted !== rowsABatch) throw new Error(`A batch was answered ${status} ${JSON.stringify(answer)}`);
      millis.push(performance.now() - from);
      client.batches += 1;
    }
  };
  await Promise.all(clients.map(work));
  agent.destroy();
  return { millis, seconds: (performance.now() - begun) / 1000, refused };
}

const quantile = (sorted: readonly number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
const rounded = (value: number) => Math.round(value * 10) / 10;

function resultOf(measure: string, { millis, seconds, refused }: Measured): BenchResult {
  const sorted = [...millis].sort((a, b) => a - b);
  const p99 = rounded(quantile(sorted, 0.99));
  return {
    bench: "ingest",
    measure,
    ratio: rounded((p99 / 250) * 100) / 100,
    ours: {
      p50: rounded(quantile(sorted, 0.5)),
      p99,
      max: rounded(sorted.at(-1) ?? 0),
      readingsPerSecond: Math.round((sorted.length * rowsABatch) / seconds),
    },
    theirs: { p99: 250 },
    n: sorted.length,
    refused,
  };
}

/** Counts what is kept against what was acknowledged, and what was thinned of it, after everything was followed. */
async function account(db: Store, organisationId: string, clients: readonly Client[]): Promise<BenchResult> {
  const sent = clients.reduce((sum, { batches }) => sum + batches * rowsABatch, 0);
  let [kept, distinct] = [0, 0];
  for (const siteId of new Set(clients.map((client) => client.siteId))) {
    const keys = new Set<string>();
    for (const { id } of await partsSince(db, siteId, 0)) {
      const rows = await openKeptPart(db, id);
      kept += rows.length;
      for (const row of rows) keys.add(readingKey(row));
    }
    distinct += keys.size;
    const follower = new SiteFollower(organisationId, siteId);
    const actor = commandLineActor(organisationId);
    await requireSiteTurn(db, siteId, (lease) => follower.follow({ db, actor, siteId, lease, now: new Date() }, { isAnew: () => false }));
  }
  const thinned = (await db.drawMinute.aggregate({ _sum: { readings: true } }))._sum.readings ?? 0;
  if (kept !== sent || distinct !== sent || thinned !== sent)
    throw new Error(`Of ${sent} acknowledged readings ${kept} are kept, ${distinct} of them different, and ${thinned} thinned.`);
  return {
    bench: "ingest",
    measure: "acknowledged readings kept once, and followed once",
    ratio: kept / sent,
    n: sent,
    lost: sent - distinct,
    doubled: kept - distinct,
  };
}

/**
 * 50 clients send readings over HTTP to a process that takes them in as the product's route does, without the web framework, and
 * follows them meanwhile: paced as devices send, then as fast as answers come. `--seconds N` lasts longer or shorter than the five
 * minutes; `--database postgresql://...` measures that database.
 */
export const bench: Bench = async ({ small, flags }) => {
  const folder = mkdtempSync(join(tmpdir(), "pw-ingest-"));
  const url = flags["database"] ?? `file:${join(folder, "ingest.db")}`;
  const seconds = Number(flags["seconds"] ?? (small ? 10 : 300));
  const db = await prepareStore(url);
  try {
    const { organisationId, clients } = await makeClients(db);
    const server = await startIngest(url);
    await run(server.port, clients, { seconds: small ? 1 : 5, everyMs: 0 });
    const paced = await run(server.port, clients, { seconds, everyMs: 1000 });
    const fast = await run(server.port, clients, { seconds: Math.max(2, seconds / 5), everyMs: 0 });
    await server.kill();
    const results = [
      resultOf(`50 clients, each a batch of ${rowsABatch} readings a second / p99 of 250 ms`, paced),
      resultOf("50 clients as fast as answers come / p99 of 250 ms", fast),
      await account(db, organisationId, clients),
    ];
    const bytes = url.startsWith("file:") ? statSync(url.slice(5)).size : null;
    return bytes === null
      ? results
      : [...results, { bench: "ingest", measure: "database bytes a reading", bytes: rounded(bytes / (results[2]?.n ?? 1)) }];
  } finally {
    await db.$disconnect();
    rmSync(folder, { recursive: true, force: true });
  }
};
