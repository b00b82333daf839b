import { z } from "zod";
import { route } from "@/app/_server/route";
import { suggest } from "@/lib/registry/recall-suggest";

/** Suggestions for what is typed into the search box so far. */
export const GET = route(
  { permission: "see recalls", query: z.object({ q: z.string().max(200).default("") }) },
  async ({ db, actor, now, query }) => ({
    suggestions: await suggest(db, actor, { typed: query.q, now }),
  }),
);
