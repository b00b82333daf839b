"use server";

import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formObject } from "@/app/_server/action";
import { failureOf, otherOrigin } from "@/app/_server/failure";
import { isSameOrigin } from "@/app/_server/origin";
import { askSignIn, signInWith } from "@/app/_server/sign-in-request";
import { safeWayBack } from "./way-back";

export interface SignInState {
  readonly problem: string | null;
  readonly email: string;
}

const form = z.object({ email: z.string().trim().max(320), password: z.string().max(1000), back: z.string().max(2000) });
const missing = "Give your e-mail address and your password.";

export async function signIn(_previous: SignInState, given: FormData): Promise<SignInState> {
  const parsed = form.safeParse(formObject(given));
  if (!parsed.success) return { problem: missing, email: "" };
  const { email, password, back } = parsed.data;
  if (!isSameOrigin(await headers())) return { problem: otherOrigin.problem, email };
  if (email === "" || password === "") return { problem: missing, email };
  const outcome = await signInWith(email, password).catch((error: unknown) => ({ problem: failureOf(error).problem }));
  if (typeof outcome === "object") return { problem: outcome.problem, email };
  const wayBack = safeWayBack(back);
  redirect(outcome === "second" ? `/sign-in/second?back=${encodeURIComponent(wayBack)}` : wayBack);
}

const codeForm = z.object({ code: z.string().trim().max(40), back: z.string().max(2000) });
const wrongCode = "This code is not right, or not any more: take the one that is shown now.";

/** The second step: a code of the authenticator, or one of the codes kept for when it is lost. */
export async function signInSecond(_previous: { problem: string | null }, given: FormData): Promise<{ problem: string | null }> {
  const parsed = codeForm.safeParse(formObject(given));
  if (!parsed.success || parsed.data.code === "") return { problem: "Give the code." };
  if (!isSameOrigin(await headers())) return { problem: otherOrigin.problem };
  const code = parsed.data.code.replace(/\s/g, "");
  const path = /^\d{6}$/.test(code) ? "two-factor/verify-totp" : "two-factor/verify-backup-code";
  const answer = await askSignIn(path, { code }, wrongCode).catch((error: unknown) => ({
    ok: false as const,
    problem: failureOf(error).problem,
  }));
  if (!answer.ok) return { problem: answer.problem };
  redirect(safeWayBack(parsed.data.back));
}
