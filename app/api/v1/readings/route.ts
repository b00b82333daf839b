import { Readable } from "node:stream";
import type { ReadableStream } from "node:stream/web";
import { failureOf } from "@/app/_server/failure";
import { failed } from "@/app/_server/route";
import { keyOfHeader } from "@/lib/access/api-keys";
import { Trouble } from "@/lib/access/trouble";
import { processArrivals } from "@/lib/jobs/process-arrivals";
import { keySource } from "@/lib/registry/arrival-batch";
import { BatchConflict, TooBusy } from "@/lib/registry/arrival-queue";
import { takeBatch } from "@/lib/registry/readings-batch";
import { getStore } from "@/lib/store/client";

export const dynamic = "force-dynamic";

const noKey = {
  status: 401,
  problem: "Send the key of the site as Authorization: Bearer pwk_...; this one is unknown or revoked.",
  fields: {},
};

function refusal(error: unknown): Response {
  if (error instanceof BatchConflict) return failed({ status: 409, problem: error.message, fields: {} });
  if (!(error instanceof TooBusy)) return failed(failureOf(error));
  const { message, retryAfterSeconds, isSender } = error;
  const answer = failed({ status: isSender ? 429 : 503, problem: message, fields: {} });
  answer.headers.set("retry-after", String(retryAfterSeconds));
  return answer;
}

/**
 * Takes a batch of readings from a device. It has no session: the site's key is its proof, and only its own site is open to it. The
 * address is left out of proxy.ts, which would cut the body.
 */
export async function POST(request: Request): Promise<Response> {
  try {
    const db = getStore();
    const key = await keyOfHeader(db, request.headers.get("authorization"));
    if (key === null) return failed(noKey);
    if (!request.body) throw new Trouble("unreadable", "The batch is empty: send CSV with its header line, or JSON Lines.");
    const length = request.headers.get("content-length");
    const answer = await takeBatch(processArrivals(db), {
      source: keySource(key),
      body: Readable.fromWeb(request.body as ReadableStream<Uint8Array>),
      announced: length === null ? null : Number(length),
      batchId: request.headers.get("idempotency-key"),
      now: new Date(),
    });
    return Response.json(answer);
  } catch (error) {
    return refusal(error);
  }
}
