import type { Metadata } from "next";
import Link from "next/link";
import { requireLink } from "@/app/_server/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { DoorSheet, SmallPrint } from "@/app/_ui/door-sheet";
import { TextField } from "@/app/_ui/field";
import { mailServer } from "@/lib/documents/mail-server";
import { askForNewPassword } from "./actions";

export const metadata: Metadata = { title: "Password forgotten" };

export default async function ForgottenPage() {
  const canMail = await requireLink(async () => mailServer() !== null);
  const mails = canMail.ok && canMail.value;
  return (
    <DoorSheet
      title="Password forgotten"
      lead={
        mails
          ? "We mail you a link that is open for an hour."
          : "This service sends no mail: an administrator of your organisation gives you a new password."
      }
    >
      {mails && (
        <ActionForm action={askForNewPassword} done="If this address has an account here, a mail is on its way.">
          <TextField label="E-mail address" name="email" type="email" autoComplete="username" required maxLength={320} />
          <Button look="main" big>
            Mail me a link
          </Button>
        </ActionForm>
      )}
      <SmallPrint>
        <Link href="/sign-in">Back to signing in</Link>
      </SmallPrint>
    </DoorSheet>
  );
}
