"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { stateDueDays } from "@/lib/registry/due-days";

const days = z.coerce.number({ error: "Give whole days." });
const form = z.object({ siteId: z.uuid(), DANGER: days, WARNING: days, CAUTION: days, NOTICE: days, seen: z.string().max(64).optional() });

export const saveDueDays = action(form, "set site policy", async ({ db, actor, now }, { siteId, seen, ...given }) => {
  await stateDueDays(db, actor, { siteId, days: given, seen, now });
  revalidatePath(`/building/${siteId}/due`);
});
