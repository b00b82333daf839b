"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { stateDueDays } from "@/lib/registry/due-days";

const days = z.coerce.number({ error: "Give whole days." });
const form = z.object({ siteId: z.uuid(), DANGER: days, WARNING: days, CAUTION: days, NOTICE: days });

export const saveDueDays = action(form, "set site policy", async ({ db, actor, now }, { siteId, ...given }) => {
  await stateDueDays(db, actor, { siteId, days: given, now });
  revalidatePath(`/building/${siteId}/due`);
});
