import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { keyOfHeader } from "@/lib/access/api-keys";
import { Trouble } from "@/lib/access/trouble";
import { processArrivals } from "@/lib/jobs/process-arrivals";
import { keySource } from "@/lib/registry/arrival-batch";
import { BatchConflict, TooBusy } from "@/lib/registry/arrival-queue";
import { takeBatch } from "@/lib/registry/readings-batch";
import { prepareStore } from "@/lib/store/prepare";

// Takes readings in over HTTP as the product's route does, without the web framework; DATABASE_URL names the database. Prints its port.
const db = await prepareStore();
const arrivals = processArrivals(db);

function statusOf(error: unknown): number {
  if (error instanceof TooBusy) return 503;
  if (error instanceof BatchConflict) return 409;
  return error instanceof Trouble ? error.status : 500;
}

async function answer(request: IncomingMessage): Promise<object> {
  const key = await keyOfHeader(db, request.headers.authorization ?? null);
  if (key === null) throw new Trouble("not_found", "No key.");
  const name = request.headers["idempotency-key"];
  const batchId = typeof name === "string" ? name : null;
  return takeBatch(arrivals, { source: keySource(key), body: request, batchId, now: new Date() });
}

function reply(response: ServerResponse, status: number, body: object): void {
  response.writeHead(status, { "content-type": "application/json" }).end(JSON.stringify(body));
}

const server = createServer((request, response) => {
  answer(request).then(
    (body) => reply(response, 200, body),
    (error: unknown) => reply(response, statusOf(error), { problem: String(error) }),
  );
});
server.keepAliveTimeout = 60_000;
server.listen(0, "127.0.0.1", () => process.stdout.write(`ready ${(server.address() as AddressInfo).port}\n`));
