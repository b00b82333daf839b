import type { Metadata } from "next";
import { guestFileLines } from "@/app/_server/guest-file-lines";
import { requireLink } from "@/app/_server/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { DoorSheet } from "@/app/_ui/door-sheet";
import { AreaField, SelectField } from "@/app/_ui/field";
import { GuestCase } from "@/app/_ui/guest-case";
import { KeptFiles } from "@/app/_ui/kept-files";
import { readCase } from "@/lib/registry/case-link";
import { check } from "./actions";

export const metadata: Metadata = { title: "Check from outside", referrer: "same-origin" };

export default async function CheckPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const opened = await requireLink(async (context) => ({
    ...(await readCase(context.db, "outside_checker", { token, now: context.now })),
    files: await guestFileLines(context, "outside_checker", token),
  }));
  if (!opened.ok) return <DoorSheet title="Check from outside" lead={opened.problem} />;
  const { name, organisation, shown, lines, files } = opened.value;
  const lead = `${name}, ${organisation} asks you to look at the evidence before this danger is closed. You are the second pair of eyes.`;
  return (
    <DoorSheet title="Check from outside" lead={lead}>
      <GuestCase shown={shown} lines={lines} />
      <h2>Evidence</h2>
      <KeptFiles files={files} path={`/link-files/outside_checker/${token}`} />
      <h2>Your word</h2>
      <ActionForm action={check} done="Thank you: your word stands with the finding.">
        <input type="hidden" name="token" value={token} />
        <SelectField label="Does the evidence show that the danger is over?" name="agrees" required defaultValue="">
          <option value="" disabled>
            choose
          </option>
          <option value="yes">Yes, it does</option>
          <option value="no">No, it does not</option>
        </SelectField>
        <AreaField label="What you looked at, and why you say so" name="text" rows={4} maxLength={4000} required />
        <Acts>
          <Button look="main">Send it</Button>
        </Acts>
      </ActionForm>
    </DoorSheet>
  );
}
