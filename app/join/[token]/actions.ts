"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { linkAction } from "@/app/_server/link";
import { acceptInvitation } from "@/lib/access/invitation";

const form = z.object({ token: z.string().max(100), name: z.string().max(200), password: z.string().max(1000) });

export const join = linkAction(form, async ({ db, now }, given) => {
  await acceptInvitation(db, { ...given, now });
  redirect("/sign-in");
});
