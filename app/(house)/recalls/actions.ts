"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { crossCheckRegistry } from "@/lib/matching/cross-check.run";

/** Compares the whole registry with the loaded lists. */
export const compareAll = action(z.object({}), "cross-check", async ({ db, actor, now }) => {
  const { appliances, notices, added, changed, removed } = await crossCheckRegistry(db, actor, { now });
  revalidatePath("/recalls");
  return { appliances, notices, added, changed, removed };
});
