"use server";

import { cookies, headers } from "next/headers";
import { redirect } from "next/navigation";
import { isSameOrigin } from "@/app/_server/origin";
import { endSession } from "@/app/_server/session-end";
import { asTheme, themeCookie } from "@/app/_ui/theme";

const aYear = 365 * 24 * 3600;

/** Keeps the chosen theme in a cookie; it is nobody's secret and changes nothing but the look. */
export async function chooseTheme(form: FormData): Promise<void> {
  const chosen = form.get("theme");
  const theme = asTheme(typeof chosen === "string" ? chosen : undefined);
  (await cookies()).set(themeCookie, theme, { maxAge: aYear, sameSite: "lax", path: "/", httpOnly: true });
}

export async function signOut(): Promise<void> {
  if (isSameOrigin(await headers())) await endSession();
  redirect("/sign-in");
}
