import type { Metadata } from "next";
import Link from "next/link";
import { redirect } from "next/navigation";
import { currentActor } from "@/app/_server/session";
import { DoorSheet, SmallPrint } from "@/app/_ui/door-sheet";
import { SignInForm } from "./form";
import { PasskeyButton } from "./passkey-button";
import { safeWayBack } from "./way-back";

export const metadata: Metadata = { title: "Sign in" };

export default async function SignInPage({ searchParams }: { searchParams: Promise<{ back?: string | string[] }> }) {
  const { back } = await searchParams;
  const wayBack = safeWayBack(back);
  if (await currentActor()) redirect(wayBack);
  return (
    <DoorSheet title="Sign in" lead="What is plugged in, what its plate allows, and what must be done about it.">
      <SignInForm back={wayBack} />
      <PasskeyButton back={wayBack} />
      <SmallPrint>
        <Link href="/forgotten">Password forgotten?</Link> No account? An administrator of your organisation invites people; there is no
        sign-up.
      </SmallPrint>
    </DoorSheet>
  );
}
