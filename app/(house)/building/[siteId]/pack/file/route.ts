import { z } from "zod";
import { route } from "@/app/_server/route";
import { openPackFile } from "@/lib/jobs/site-packs";

const query = z.object({ day: z.string().max(20), file: z.enum(["document", "tables"]) });

/** A file of a kept pack, to save. */
export const GET = route({ permission: "make site packs", query }, async ({ db, actor, params, query: { day, file } }) => {
  const { bytes, name, mediaType } = await openPackFile(db, actor, { siteId: params["siteId"] ?? "", day, file });
  const headers = {
    "content-type": mediaType,
    "content-length": String(bytes.length),
    "content-disposition": `attachment; filename="${name}"`,
    "content-security-policy": "sandbox; default-src 'none'",
    "cache-control": "no-store",
  };
  return new Response(bytes, { headers });
});
