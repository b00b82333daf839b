"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { linkAction } from "@/app/_server/link";
import { checkFromOutside } from "@/lib/registry/case-link";

const form = z.object({
  token: z.string().max(100),
  text: z.string().max(4000),
  agrees: z.enum(["yes", "no"], { error: "Say whether you agree." }),
});

export const check = linkAction(form, async ({ db, now }, { token, text, agrees }) => {
  await checkFromOutside(db, { token, text, agrees: agrees === "yes", now });
  revalidatePath(`/check/${token}`);
});
