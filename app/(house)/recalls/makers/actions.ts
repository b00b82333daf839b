"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import type { CrossCheckAccount } from "@/lib/matching/cross-check.run";
import { addAlias, aliasInput, withdrawAlias } from "@/lib/registry/maker-alias";

function said({ notices, appliances, added, changed, removed, reopened }: CrossCheckAccount) {
  revalidatePath("/recalls", "layout");
  return { notices, appliances, added, changed, removed, reopened };
}

/** Joins two makers' names and compares what it touches. */
export const joinMakers = action(
  aliasInput.extend({ formId: z.uuid().optional() }),
  "edit maker aliases",
  async ({ db, actor, now }, input) => {
    return said((await addAlias(db, actor, { ...input, now })).compared);
  },
);

/** Withdraws an alias and compares what it touched. */
export const partMakers = action(
  z.object({ aliasId: z.string().max(100), reason: z.string().max(4000) }),
  "edit maker aliases",
  async ({ db, actor, now }, input) => said((await withdrawAlias(db, actor, { ...input, now })).compared),
);
