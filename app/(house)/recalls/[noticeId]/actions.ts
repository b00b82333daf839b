"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import type { CrossCheckAccount } from "@/lib/matching/cross-check.run";
import { correctCoverage, withdrawCorrection } from "@/lib/registry/coverage-correction";
import { quotedForm, readStatement, statementForm, toQuoted } from "@/lib/registry/coverage-correction-input";

const id = z.string().max(100);
const reason = z.string().max(4000);
const about = z.object({ noticeId: id, noticeHash: id, reason });
/** The words of the notice as a form carries them: one hidden field of JSON, empty where the statement rests on none. */
const passage = z
  .string()
  .max(20_000)
  .default("")
  .transform((text, context) => {
    if (text === "") return null;
    try {
      return toQuoted(quotedForm.parse(JSON.parse(text)));
    } catch {
      context.addIssue({ code: "custom", message: "The words of the notice were not sent whole: choose them again." });
      return z.NEVER;
    }
  });

function said({ added, changed, removed, reopened }: CrossCheckAccount) {
  revalidatePath("/recalls", "layout");
  return { added, changed, removed, reopened };
}

const additionInput = about
  .extend({ formId: z.uuid().optional(), passage, ...statementForm.shape })
  .transform((given, context) => ({ ...given, statement: readStatement(given, context) }));

/** Adds a statement to what a notice covers. */
export const addStatement = action(additionInput, "correct coverage", async ({ db, actor, now }, input) => {
  const { noticeId, noticeHash, formId, reason: why } = input;
  const wanted = { act: "add", statement: input.statement, passage: input.passage } as const;
  return said((await correctCoverage(db, actor, { noticeId, noticeHash, formId, wanted, reason: why, now })).compared);
});

/** Takes a statement out that was read. */
export const takeOut = action(
  about.extend({ statementKey: z.string().max(4000) }),
  "correct coverage",
  async ({ db, actor, now }, input) => {
    const { statementKey, ...rest } = input;
    return said((await correctCoverage(db, actor, { ...rest, wanted: { act: "remove", statementKey }, now })).compared);
  },
);

/** Says that words which were not understood hold nothing to compare. */
export const dismissWords = action(about.extend({ passage }), "correct coverage", async ({ db, actor, now }, input) => {
  const { passage: words, ...rest } = input;
  if (words === null) throw new z.ZodError([{ code: "custom", path: ["passage"], message: "Choose the words first.", input: null }]);
  return said((await correctCoverage(db, actor, { ...rest, wanted: { act: "dismiss", passage: words }, now })).compared);
});

/** Withdraws a correction. */
export const withdraw = action(
  z.object({ noticeId: id, correctionId: id, reason }),
  "correct coverage",
  async ({ db, actor, now }, input) => {
    return said((await withdrawCorrection(db, actor, { ...input, now })).compared);
  },
);
