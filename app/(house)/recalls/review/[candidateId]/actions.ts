"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { decide } from "@/lib/registry/decision";
import { answerQuestion } from "@/lib/registry/decision-answer";

const ids = z.preprocess(
  (given): unknown => (given === undefined ? [] : Array.isArray(given) ? given : [given]),
  z.array(z.string().max(100)).max(5000),
);
const decideInput = z.object({
  candidateId: z.string().max(100),
  noticeHash: z.string().max(100),
  verdict: z.enum(["affected", "not_affected", "unsure"], "Choose affected, not affected or unsure."),
  reason: z.string().max(4000),
  applianceIds: ids,
});

/** Decides for the chosen identical appliances. */
export const decideCandidate = action(decideInput, "decide candidates", async ({ db, actor, now }, input) => {
  const decided = await decide(db, actor, { ...input, now });
  revalidatePath("/recalls", "layout");
  return { ...decided, verdict: input.verdict };
});

const answerInput = z.object({
  candidateId: z.string().max(100),
  field: z.enum(["brand", "model", "serial", "dateCode", "made", "product", "upc"]),
  value: z.string().max(4000),
  /** Ticked where an occupant read it and told it. */
  source: z.enum(["staff", "occupant"]).default("staff"),
});

/** Writes what was read off the appliance, compares it again and shows what it says now. The use case asks for the permission. */
export const answerCandidate = action(answerInput, "see recalls", async ({ db, actor, now }, input) => {
  const { grade, tag, written } = await answerQuestion(db, actor, { ...input, now });
  revalidatePath("/recalls", "layout");
  if (!written) redirect(`/recalls/review/${input.candidateId}?${new URLSearchParams({ told: input.value.trim() })}`);
  if (grade === null) redirect(`/recalls?${new URLSearchParams({ settled: tag })}`);
  redirect(`/recalls/review/${input.candidateId}?${new URLSearchParams({ read: input.value.trim() })}`);
});
