import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
import { route } from "@/app/_server/route";
import { Trouble } from "@/lib/access/trouble";
import { thenQuery, viewSiteThen } from "@/lib/registry/site-then";
import { thenRows, thenStamp, thenTableNames, thenTables } from "@/lib/registry/site-then-rows";

const query = thenQuery.extend({ table: z.enum(thenTableNames, { error: `Choose a table: ${thenTableNames.join(", ")}.` }) });

/** One table of the state of a site on a day. */
export const GET = route({ permission: "see places", query }, async ({ db, actor, now, params, query: { table, ...asked } }) => {
  const { problem, known } = await viewSiteThen(db, actor, { siteId: params["siteId"] ?? "", query: asked, now });
  if (known === null) throw new Trouble("not_valid", problem ?? "Choose a day.");
  const rows = thenRows(table, known);
  async function* pages() {
    yield rows;
  }
  return csvDownload({
    name: `${table}-as-known`,
    now: known.then.at,
    columns: [...thenTables[table].columns, ...thenStamp],
    pages: pages(),
    cells: (row) => row,
  });
});
