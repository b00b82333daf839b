"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { saveParts } from "@/lib/registry/occupant-notice-texts";

const part = z.string().max(10_000);
const input = z.object({
  language: z.enum(["en", "de"]),
  subject: part,
  greeting_name: part,
  about: part,
  next: part,
  closing: part,
  seen: z.string().max(64).optional(),
});

export const save = action(input, "edit occupant texts", async ({ db, actor, now }, { language, seen, ...parts }) => {
  await saveParts(db, actor, { language, parts, seen, now });
  revalidatePath("/tenancies/texts");
});
