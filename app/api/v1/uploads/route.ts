import { Readable } from "node:stream";
import type { ReadableStream } from "node:stream/web";
import { z } from "zod";
import { route } from "@/app/_server/route";
import { Trouble } from "@/lib/access/trouble";
import { takeUpload } from "@/lib/jobs/bring-in";

export const dynamic = "force-dynamic";

/**
 * Takes a file as the request's raw body, piece by piece, so that its length does not matter for memory. The address is left
 * out of proxy.ts, which would cut the body.
 */
export const POST = route(
  { permission: "bring in labels", query: z.object({ name: z.string().max(500).default("") }) },
  async ({ db, actor, now, request, query }) => {
    if (!request.body) throw new Trouble("unreadable", "No file came with the request: choose one.");
    const length = request.headers.get("content-length");
    const announced = length === null ? null : Number(length);
    const body = Readable.fromWeb(request.body as ReadableStream<Uint8Array>);
    return takeUpload(db, actor, { body, fileName: query.name, announced, now });
  },
);
