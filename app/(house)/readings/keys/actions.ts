"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { createApiKey, revokeApiKey } from "@/lib/access/api-keys";
import { retentionMark, setRetention } from "@/lib/registry/readings-retention";

const path = "/readings/keys";

/** The token is in this one answer and nowhere else. The page comes anew also after a no, with a fresh id for the next form. */
export const makeKey = action(
  z.object({
    formId: z.uuid().optional(),
    siteId: z.uuid({ error: "Choose a site." }),
    name: z.string().trim().min(1, { error: "Give it a name." }).max(80),
  }),
  "manage API keys",
  async ({ db, actor, now }, given) => {
    revalidatePath(path);
    const { token } = await createApiKey(db, actor, { ...given, now });
    return { token };
  },
);

export const revokeKey = action(
  z.object({ id: z.uuid({ error: "This key is not known: reload the page." }) }),
  "manage API keys",
  async ({ db, actor, now }, { id }) => {
    await revokeApiKey(db, actor, { id, now });
    revalidatePath(path);
  },
);

const days = z
  .string()
  .trim()
  .regex(/^\d{0,6}$/, { error: "Write a whole number of days, or leave it empty." })
  .transform((text) => (text === "" ? null : Number(text)));

export const keepReadings = action(
  z
    .looseObject({ siteId: z.union([z.literal(""), z.uuid({ error: "Choose a site." })]), keepDays: days })
    .transform(({ siteId, keepDays, ...marks }) => ({ siteId: siteId || null, keepDays, marks })),
  "set retention",
  async ({ db, actor, now }, { siteId, keepDays, marks }) => {
    const seen = z.string().max(64).optional().parse(marks[retentionMark(siteId)]);
    await setRetention(db, actor, { siteId, keepDays, seen, now });
    revalidatePath(path);
  },
);
