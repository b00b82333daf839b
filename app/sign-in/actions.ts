"use server";

import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formObject } from "@/app/_server/action";
import { failureOf, otherOrigin } from "@/app/_server/failure";
import { isSameOrigin } from "@/app/_server/origin";
import { signInWith } from "@/app/_server/sign-in-request";
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
  const problem = await signInWith(email, password).catch((error: unknown) => failureOf(error).problem);
  if (problem !== null) return { problem, email };
  redirect(safeWayBack(back));
}
