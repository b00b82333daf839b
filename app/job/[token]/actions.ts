"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { linkAction } from "@/app/_server/link";
import { reportWork } from "@/lib/registry/case-link";

const form = z.object({ token: z.string().max(100), text: z.string().max(4000), done: z.literal("on").optional() });

export const report = linkAction(form, async ({ db, now }, { token, text, done }) => {
  await reportWork(db, { token, text, done: done === "on", now });
  revalidatePath(`/job/${token}`);
});
