import { Readable } from "node:stream";
import { route } from "@/app/_server/route";
import { setAsideCsv } from "@/lib/documents/set-aside-csv";
import { eachSetAside, getRun } from "@/lib/registry/import-list";

export const dynamic = "force-dynamic";

/** The set-aside rows of a run as a CSV file to mend and bring in again. */
export const GET = route({ permission: "bring in labels" }, async ({ db, actor, now, params }) => {
  const runId = params["runId"] ?? "";
  const run = await getRun(db, actor, { runId, now });
  const csv = setAsideCsv(run.mapping?.headers ?? null, eachSetAside(db, actor, { runId, now }));
  const name = `set-aside-${run.fileName.replace(/[^\w.-]+/g, "-")}`.replace(/(?:\.csv)?$/i, ".csv");
  return new Response(Readable.toWeb(Readable.from(csv)) as ReadableStream, {
    headers: {
      "content-type": "text/csv; charset=utf-8",
      "content-disposition": `attachment; filename="${name}"`,
      "cache-control": "no-store",
    },
  });
});
