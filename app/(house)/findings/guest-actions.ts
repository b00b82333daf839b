"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { inviteGuest } from "@/lib/registry/case-link";
import { watchFinding } from "@/lib/registry/finding-watch";

const guestInput = z.object({
  formId: z.uuid().optional(),
  findingId: z.uuid(),
  guest: z.enum(["contractor", "outside_checker"], { error: "Choose who it is for." }),
  name: z.string().trim().max(200),
});
const pages = { contractor: "/job", outside_checker: "/check" } as const;

/** Makes a guest's link; it is shown once, to be handed over. The page comes anew also after a no, with a fresh id for the next form. */
export const inviteGuestAction = action(guestInput, "work findings", async ({ db, actor, now }, input) => {
  revalidatePath(`/findings/${input.findingId}`);
  const { token } = await inviteGuest(db, actor, { ...input, now });
  return { path: `${pages[input.guest]}/${token}` };
});

const watchInput = z.object({ findingId: z.uuid(), on: z.enum(["yes", "no"]) });

export const watchAction = action(watchInput, "see findings", async ({ db, actor, now }, { findingId, on }) => {
  await watchFinding(db, actor, { findingId, on: on === "yes", now });
  revalidatePath(`/findings/${findingId}`);
});
