"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { answerGroup } from "@/lib/registry/group-answer";

const ids = z.preprocess(
  (given): unknown => (given === undefined ? [] : Array.isArray(given) ? given : [given]),
  z.array(z.string().max(100)).max(10_000),
);
const answerInput = z.object({
  groupId: z.string().max(100),
  seen: z.string().max(100),
  answer: z.enum(["none", "look"], "Choose one of the two answers."),
  reason: z.string().max(4000),
  applianceIds: ids,
});

/** Answers once for a group of notices without identifiers. */
export const sayForGroup = action(answerInput, "decide candidates", async ({ db, actor, now }, input) => {
  const answered = await answerGroup(db, actor, { ...input, now });
  revalidatePath("/recalls", "layout");
  return answered;
});
