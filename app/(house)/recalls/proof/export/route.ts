import { z } from "zod";
import { csvDownload } from "@/app/_server/csv-download";
import { route } from "@/app/_server/route";
import { Trouble } from "@/lib/access/trouble";
import { negativeProof, proofQuery } from "@/lib/registry/negative-proof";
import { proofColumns, proofRows, proofTableNames } from "@/lib/registry/negative-proof-rows";
import { proofEvents } from "@/lib/registry/proof-lists";

const query = proofQuery.extend({ table: z.enum(proofTableNames, { error: `Choose a table: ${proofTableNames.join(", ")}.` }) });

/** One table of the proof: the appliances, the notices that could not be compared, or the versions. */
export const GET = route({ permission: "see recalls", query }, async ({ db, actor, now, query: { table, ...asked } }) => {
  const proof = await negativeProof(db, actor, { query: asked, now });
  if (proof === null) throw new Trouble("not_found", "There is no site yet: nothing was compared.");
  const events = table === "versions" ? await proofEvents(db, actor, { now, appliance: proof.one }) : [];
  const rows = proofRows(table, { proof, events, outcome: asked.outcome });
  async function* pages() {
    yield rows;
  }
  return csvDownload({ name: `checked-${table}`, now, columns: proofColumns[table], pages: pages(), cells: (row) => row });
});
