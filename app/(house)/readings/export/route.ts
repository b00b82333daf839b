import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
import { route } from "@/app/_server/route";
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
  return csvDownload({ name: "screening-results", now, columns, pages, cells });
});
