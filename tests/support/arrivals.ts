import type { Actor } from "@/lib/access/actor";
import { createApiKey } from "@/lib/access/api-keys";
import { keySource } from "@/lib/registry/arrival-batch";
import { ArrivalOutlets } from "@/lib/registry/arrival-outlets";
import { ArrivalQueue, type QueueLimits } from "@/lib/registry/arrival-queue";
import { type Arrivals, takeBatch } from "@/lib/registry/readings-batch";
import type { Store } from "@/lib/store/client";

export const arrivalNow = new Date("2026-03-10T10:00:00Z");

/** What takes readings in, as one process has it. */
export function makeArrivals(db: Store, limits?: QueueLimits): Arrivals {
  return { queue: new ArrivalQueue(db, limits ? { limits } : {}), outlets: new ArrivalOutlets(db) };
}

/** Text in pieces, as a connection delivers it. */
export async function* piecesOf(text: string | Uint8Array): AsyncGenerator<Uint8Array> {
  const bytes = typeof text === "string" ? new TextEncoder().encode(text) : text;
  for (let at = 0; at < bytes.length; at += 1000) yield bytes.subarray(at, at + 1000);
}

/** A key of a site, and a way to send with it. */
export async function makeSender(db: Store, administrator: Actor, siteId: string, name = "gateway") {
  const { id, token } = await createApiKey(db, administrator, { siteId, name, now: arrivalNow });
  const source = keySource({ id, organisationId: administrator.organisationId, siteId });
  const send = (arrivals: Arrivals, body: string | Uint8Array, batchId: string | null = null, now = arrivalNow) =>
    takeBatch(arrivals, { source, body: piecesOf(body), batchId, now });
  return { id, token, source, send };
}
