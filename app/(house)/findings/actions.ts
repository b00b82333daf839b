"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { isOutcome, type Outcome } from "@/lib/casework/outcome";
import { isSignalWord } from "@/lib/casework/signal-word";
import { isStep } from "@/lib/casework/step";
import { openFindingByHand } from "@/lib/registry/open-finding";
import { takeStep } from "@/lib/registry/take-step";

const text = (longest: number) => z.string().trim().max(longest, `Shorten it to ${longest} characters.`).default("");
/** A day of a form counts to its end, so that "today" is not past. */
const day = z
  .union([z.literal(""), z.iso.date("Write the day as YYYY-MM-DD.")])
  .optional()
  .transform((value) => (value ? new Date(`${value}T23:59:59Z`) : null));

const stepInput = z.object({
  findingId: z.uuid(),
  version: z.coerce.number().int().positive(),
  step: z.string().refine(isStep, "Choose one of the steps."),
  text: text(4000),
  ownerId: z.union([z.literal(""), z.string().max(100)]).optional(),
  dueAt: day,
  outcome: z.string().optional(),
  evidence: text(2000),
  reviewAt: day,
});

/** Takes one step of a finding and shows it again. */
export const stepAction = action(stepInput, "work findings", async ({ db, actor, now }, input) => {
  const outcome: { outcome?: Outcome } = input.outcome !== undefined && isOutcome(input.outcome) ? { outcome: input.outcome } : {};
  const { findingId, version, text: said, evidence, dueAt, reviewAt } = input;
  const step = input.step;
  await takeStep(db, actor, {
    findingId,
    version,
    step,
    text: said,
    evidence,
    dueAt,
    reviewAt,
    ownerId: input.ownerId || null,
    ...outcome,
    now,
  });
  revalidatePath("/");
  revalidatePath("/findings");
  redirect(`/findings/${findingId}#history`);
});

const handInput = z.object({
  tag: text(100),
  siteId: text(100),
  outlet: text(200),
  signalWord: z.string().refine(isSignalWord, "Choose a signal word."),
  sentence: text(1000),
  formId: z.uuid(),
});

/** Opens a finding that a person saw, and shows it. */
export const openByHandAction = action(handInput, "work findings", async ({ db, actor, now }, input) => {
  const signalWord = input.signalWord;
  const { id } = await openFindingByHand(db, actor, { ...input, signalWord, now });
  revalidatePath("/");
  revalidatePath("/findings");
  redirect(`/findings/${id}`);
});
