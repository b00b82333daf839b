"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { linkAction } from "@/app/_server/link";
import { Trouble, type TroubleCode } from "@/lib/access/trouble";
import type { OccupantTextName } from "@/lib/casework/occupant-text-name";
import { asLanguage, speaker } from "@/lib/casework/occupant-texts";
import { answerAsOccupant, confirmUnplugged } from "@/lib/registry/occupant-link";

const said = { token: z.string().max(100), language: z.string().max(10) };

/** Says in the occupant's language what went wrong. */
async function inTheirWords(language: string, words: Partial<Record<TroubleCode, OccupantTextName>>, work: () => Promise<void>) {
  try {
    await work();
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    throw new Trouble(error.code, speaker(asLanguage(language))(words[error.code] ?? "too_late"));
  }
}

/** The explicit step of an occupant: opening the page says nothing. */
export const unplugged = linkAction(z.object({ ...said, sure: z.string().max(10).optional() }), async ({ db, now }, given) => {
  const { token, language, sure } = given;
  await inTheirWords(language, { not_valid: "unplugged_tick_first" }, async () => {
    if (sure !== "on") throw new Trouble("not_valid", "Tick that it is unplugged.");
    await confirmUnplugged(db, { token, now });
  });
  revalidatePath(`/o/${token}`);
});

const answerInput = z.object({ ...said, candidateId: z.string().max(100), value: z.string().max(5000) });

export const answer = linkAction(answerInput, async ({ db, now }, { token, language, candidateId, value }) => {
  await inTheirWords(language, { not_valid: "question_wrong", changed_meanwhile: "question_gone" }, () =>
    answerAsOccupant(db, { token, candidateId, value, now }),
  );
  revalidatePath(`/o/${token}`);
});
