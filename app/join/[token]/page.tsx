import type { Metadata } from "next";
import Link from "next/link";
import { requireLink } from "@/app/_server/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { DoorSheet, SmallPrint } from "@/app/_ui/door-sheet";
import { TextField } from "@/app/_ui/field";
import { readInvitation } from "@/lib/access/invitation";
import { shortestPassword } from "@/lib/access/password-rule";
import { join } from "./actions";

export const metadata: Metadata = { title: "Invitation", referrer: "same-origin" };

export default async function JoinPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const opened = await requireLink(({ db, now }) => readInvitation(db, { token, now }));
  if (!opened.ok) {
    return (
      <DoorSheet title="Invitation" lead={opened.problem}>
        <SmallPrint>
          <Link href="/sign-in">Sign in</Link>
        </SmallPrint>
      </DoorSheet>
    );
  }
  const { organisation, role, name, email } = opened.value;
  return (
    <DoorSheet title={`Join ${organisation}`} lead={`You are invited as ${role}. Choose a password; you then sign in with ${email}.`}>
      <ActionForm action={join}>
        <input type="hidden" name="token" value={token} />
        <input type="hidden" name="username" autoComplete="username" value={email} readOnly />
        <TextField label="Your name" name="name" required maxLength={200} defaultValue={name} autoComplete="name" />
        <TextField
          label="Password"
          name="password"
          type="password"
          autoComplete="new-password"
          required
          hint={`At least ${shortestPassword} characters; a few words that have nothing to do with each other are good. An account that you have here already keeps its password.`}
        />
        <Button look="main" big>
          Join
        </Button>
      </ActionForm>
    </DoorSheet>
  );
}
