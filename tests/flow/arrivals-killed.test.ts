import { expect, it } from "vitest";
import { openKeptPart, partsSince, readingKey } from "@/lib/store/kept-log-queries";
import { makeActor, makeOrganisation, makeSite } from "@/seed/builders";
import { makeSender } from "../support/arrivals";
import { eachDatabase } from "../support/database";
import { follow } from "../support/following";
import { type IngestServer, keptOpen, sendBatch, startIngest } from "../support/ingest-server";

/** Processes killed; `PLATEWARDEN_KILL_ROUNDS=30` kills as many as a release asks for. */
const rounds = Number(process.env["PLATEWARDEN_KILL_ROUNDS"] ?? 5);
const clients = 6;
const rowsABatch = 20;
const startMs = Date.parse("2026-03-09T12:00:00Z");

/** Park and Miller's minimal standard, so that every run kills at the same delays. */
function seeded(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

eachDatabase("a process that takes readings in and is killed", (open) => {
  it(`loses no acknowledged reading and counts none twice, killed ${rounds} times at random moments`, {
    timeout: 60_000 + rounds * 20_000,
  }, async () => {
    const { db, url, close } = await open();
    const { id: organisationId } = await makeOrganisation(db);
    const administrator = await makeActor(db, organisationId, "administrator");
    const { site, outlets } = await makeSite(db, organisationId);
    const { token } = await makeSender(db, administrator, site.id);
    const random = seeded(20260310);
    const next = new Array<number>(clients).fill(0);
    const acknowledged: number[] = new Array<number>(clients).fill(0);

    /** Each client counts its own seconds; a batch whose answer did not come is sent again under its name. */
    const batch = (client: number, number: number) =>
      Array.from({ length: rowsABatch }, (_, row) => {
        const at = new Date(startMs + (number * rowsABatch + row) * 1000).toISOString();
        return JSON.stringify({ at, outlet: outlets[client % 2]!.name, receptacle: `r${client}`, watts: 10 + client, volts: 120 });
      }).join("\n");

    async function client(server: IngestServer, number: number, agent: ReturnType<typeof keptOpen>, onAnswer: () => void): Promise<void> {
      for (;;) {
        const batchId = `c${number}-${next[number]}`;
        const body = batch(number, next[number]!);
        const sent = await sendBatch({ port: server.port, token, body, batchId, agent }).catch(() => null);
        if (sent === null) return;
        expect(sent.status).toBe(200);
        expect(sent.answer).toMatchObject({ rows: rowsABatch, accepted: rowsABatch, setAside: 0 });
        acknowledged[number] = next[number]! + 1;
        next[number]! += 1;
        onAnswer();
      }
    }

    for (let round = 0; round < rounds; round++) {
      const server = await startIngest(url);
      const agent = keptOpen(clients);
      const sending = next.map((_, number) => number);
      let answers = 0;
      const killAfter = 1 + random(40);
      await new Promise<void>((resolve) => {
        const onAnswer = () => {
          answers += 1;
          if (answers === killAfter) setTimeout(() => void server.kill().then(resolve), random(30));
        };
        void Promise.all(sending.map((number) => client(server, number, agent, onAnswer)));
      });
      agent.destroy();
    }
    const last = await startIngest(url);
    for (let number = 0; number < clients; number++) {
      const sent = await sendBatch({ port: last.port, token, body: batch(number, next[number]!), batchId: `c${number}-${next[number]}` });
      expect(sent.answer).toMatchObject({ rows: rowsABatch, accepted: rowsABatch });
      next[number]! += 1;
    }
    await last.kill();

    const keys: string[] = [];
    for (const { id } of await partsSince(db, site.id, 0)) keys.push(...(await openKeptPart(db, id)).map(readingKey));
    const sentRows = next.reduce((sum, batches) => sum + batches * rowsABatch, 0);
    expect(acknowledged.every((count, number) => count <= next[number]!)).toBe(true);
    expect(keys).toHaveLength(sentRows);
    expect(new Set(keys).size).toBe(sentRows);

    await follow(db, organisationId, site.id);
    const { _sum } = await db.drawMinute.aggregate({ _sum: { readings: true } });
    expect(_sum.readings).toBe(sentRows);
    const counted = await db.arrivalDay.aggregate({ _sum: { accepted: true, repeated: true } });
    expect(counted._sum).toEqual({ accepted: sentRows, repeated: 0 });
    await close();
  });
});
