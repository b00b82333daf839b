"use server";

import { revalidatePath } from "next/cache";
import { action } from "@/app/_server/action";
import { saveSitePolicy, sitePolicyForm } from "@/lib/registry/site-policy-change";
import { screenRegistry } from "@/lib/watch/screening.run";

/** Keeps what a site states, and screens its readings anew by it. */
export const savePolicyAction = action(sitePolicyForm, "set site policy", async ({ db, actor, now }, input) => {
  await saveSitePolicy(db, actor, { ...input, now });
  await screenRegistry(db, { ...actor, siteIds: [input.siteId] }, { now });
  revalidatePath("/readings", "layout");
});
