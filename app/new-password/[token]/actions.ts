"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { linkAction } from "@/app/_server/link";
import { resetByLink } from "@/lib/access/forgotten-password";

const form = z.object({ token: z.string().max(100), password: z.string().max(1000) });

export const choosePassword = linkAction(form, async ({ db, now }, given) => {
  await resetByLink(db, { ...given, now });
  redirect("/sign-in");
});
