import type { Metadata } from "next";
import Link from "next/link";
import { requireLink } from "@/app/_server/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { DoorSheet, SmallPrint } from "@/app/_ui/door-sheet";
import { TextField } from "@/app/_ui/field";
import { shortestPassword } from "@/lib/access/password-rule";
import { openLink } from "@/lib/access/secret-link";
import { choosePassword } from "./actions";

export const metadata: Metadata = { title: "New password", referrer: "same-origin" };

export default async function NewPasswordPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const opened = await requireLink(({ db, now }) => openLink(db, "password_reset", { token, now }));
  return (
    <DoorSheet
      title="New password"
      lead={opened.ok ? "Choose a new one. You are then signed out everywhere and sign in with it." : opened.problem}
    >
      {opened.ok && (
        <ActionForm action={choosePassword}>
          <input type="hidden" name="token" value={token} />
          <TextField
            label="New password"
            name="password"
            type="password"
            autoComplete="new-password"
            required
            hint={`At least ${shortestPassword} characters; a few words that have nothing to do with each other are good.`}
          />
          <Button look="main" big>
            Set it
          </Button>
        </ActionForm>
      )}
      <SmallPrint>
        <Link href="/sign-in">Back to signing in</Link>
      </SmallPrint>
    </DoorSheet>
  );
}
