"use server";

import { revalidatePath } from "next/cache";
import { headers } from "next/headers";
import { z } from "zod";
import { action } from "@/app/_server/action";
import { sessionIdOf } from "@/app/_server/session";
import { askSignIn } from "@/app/_server/sign-in-request";
import { changeOwnPassword, endSessions, removePasskey, tellSecondStep } from "@/lib/access/own-account";
import { Trouble } from "@/lib/access/trouble";

const password = z.string().min(1, "Give your present password.").max(1000);
const may = "keep own account";
const wrongPassword = "The present password is wrong: try again.";
const wrongCode = "This code is not right, or not any more: take the one that is shown now.";

async function asked(path: string, body: object, wrong: string): Promise<Readonly<Record<string, unknown>>> {
  const answer = await askSignIn(path, body, wrong);
  if (!answer.ok) throw new Trouble("not_valid", answer.problem);
  return answer.body;
}

export const changePassword = action(
  z.object({ present: password, password: z.string().max(1000) }),
  may,
  async ({ db, actor, now }, given) => {
    await changeOwnPassword(db, actor, { ...given, sessionId: await sessionIdOf(await headers()), now });
    revalidatePath("/account");
  },
);

export const endOthers = action(z.object({ which: z.string().max(100).optional() }), may, async ({ db, actor, now }, { which }) => {
  await endSessions(db, actor, { which: which || null, sessionId: await sessionIdOf(await headers()), now });
  revalidatePath("/account");
});

/** Makes the secret of the second step; it counts from the first right code on. */
export const prepareSecondStep = action(z.object({ present: password }), may, async (_context, { present }) => {
  const body = await asked("two-factor/enable", { password: present }, wrongPassword);
  const { totpURI, backupCodes } = z.object({ totpURI: z.string(), backupCodes: z.array(z.string()) }).parse(body);
  return { totpURI, backupCodes };
});

export const confirmSecondStep = action(
  z.object({
    code: z
      .string()
      .trim()
      .regex(/^\d{3}\s?\d{3}$/, "Give the six figures that your authenticator shows."),
  }),
  may,
  async ({ db, actor, now }, { code }) => {
    await asked("two-factor/verify-totp", { code: code.replace(/\s/g, "") }, wrongCode);
    await tellSecondStep(db, actor, { on: true, now });
    revalidatePath("/account");
  },
);

export const endSecondStep = action(z.object({ present: password }), may, async ({ db, actor, now }, { present }) => {
  await asked("two-factor/disable", { password: present }, wrongPassword);
  await tellSecondStep(db, actor, { on: false, now });
  revalidatePath("/account");
});

export const takePasskeyAway = action(z.object({ id: z.string().max(100) }), may, async ({ db, actor, now }, { id }) => {
  await removePasskey(db, actor, { id, now });
  revalidatePath("/account");
});
