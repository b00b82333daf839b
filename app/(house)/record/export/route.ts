import { route } from "@/app/_server/route";
import { exportRecord } from "@/lib/access/export-record";

/** The whole record as JSON Lines, streamed. Each line's SHA-256 is the next line's `previousHash`. */
export const GET = route({ permission: "see record" }, async ({ db, actor, now }) => {
  const lines = exportRecord(db, actor);
  const body = new ReadableStream<Uint8Array>({
    async pull(stream) {
      const next = await lines.next();
      if (next.done) return stream.close();
      stream.enqueue(new TextEncoder().encode(next.value));
    },
    cancel: () => void lines.return(undefined),
  });
  const headers = {
    "content-type": "application/jsonl; charset=utf-8",
    "content-disposition": `attachment; filename="record-${now.toISOString().slice(0, 10)}.jsonl"`,
    "cache-control": "no-store",
  };
  return new Response(body, { headers });
});
