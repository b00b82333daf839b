import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
import { route } from "@/app/_server/route";
import { remedyQuery, viewRemedies } from "@/lib/registry/remedies";
import { remedyColumns, remedyRows, remedyTableNames } from "@/lib/registry/remedy-rows";

const query = remedyQuery.extend({ table: z.enum(remedyTableNames, { error: `Choose a table: ${remedyTableNames.join(", ")}.` }) });

/** The counts by notice, or each site's over time. */
export const GET = route({ permission: "see recalls", query }, async ({ db, actor, now, query: { table, ...asked } }) => {
  const rows = remedyRows(table, await viewRemedies(db, actor, { query: asked, now }));
  async function* pages() {
    yield rows;
  }
  return csvDownload({ name: `remedies-${table}`, now, columns: remedyColumns[table], pages: pages(), cells: (row) => row });
});
