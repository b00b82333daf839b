import { z } from "zod";
import { route } from "@/app/_server/route";
import { csvLine } from "@/lib/registry/csv-line";
import { exportResults, readingsQuery, type ShownResult } from "@/lib/registry/readings-overview";

const columns = ["kind", "site", "where", "tag", "from", "to", "value", "limit", "unit", "ratio", "signal_word", "reasons"] as const;

function cells({ row, site, spot, appliance, reasons }: ShownResult): (string | number | null)[] {
  const tag = appliance?.tag ?? null;
  const stretch = [row.fromAt.toISOString(), row.toAt.toISOString()];
  return [row.kind, site, spot, tag, ...stretch, row.value, row.limit, row.unit, row.ratio, row.signalWord, reasons.join(" ")];
}

/** The screening results that the page shows, streamed. */
export const GET = route({ permission: "see readings", query: z.unknown() }, async ({ db, actor, now, request }) => {
  const query = readingsQuery.parse(Object.fromEntries(new URL(request.url).searchParams));
  const pages = exportResults(db, actor, query);
  const encode = (text: string) => new TextEncoder().encode(text);
  const body = new ReadableStream<Uint8Array>({
    start: (stream) => stream.enqueue(encode(`${csvLine(columns)}\r\n`)),
    async pull(stream) {
      const page = await pages.next();
      if (page.done) return stream.close();
      stream.enqueue(encode(page.value.map((shown) => `${csvLine(cells(shown))}\r\n`).join("")));
    },
    cancel: () => void pages.return(undefined),
  });
  const headers = {
    "content-type": "text/csv; charset=utf-8",
    "content-disposition": `attachment; filename="screening-results-${now.toISOString().slice(0, 10)}.csv"`,
    "cache-control": "no-store",
  };
  return new Response(body, { headers });
});
