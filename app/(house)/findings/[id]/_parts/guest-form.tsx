"use client";

import { type ReactNode, useState } from "react";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { SelectField, TextField } from "@/app/_ui/field";
import { inviteGuestAction } from "../../guest-actions";

/** A link to this finding alone for somebody without a sign-in, shown once. */
export function GuestForm({ findingId, isDanger, children }: { findingId: string; isDanger: boolean; children: ReactNode }) {
  const [path, setPath] = useState<string | null>(null);
  const invite = async (_previous: unknown, form: FormData) => {
    const answer = await inviteGuestAction(form);
    if (answer.ok) setPath(answer.path);
    return answer;
  };
  return (
    <>
      <ActionForm action={invite} done="The link stands below. It is shown only now: hand it over.">
        {children}
        <input type="hidden" name="findingId" value={findingId} />
        <SelectField label="For" name="guest" required defaultValue="contractor">
          <option value="contractor">a contractor: sees this job, adds photos and a report</option>
          {isDanger && <option value="outside_checker">a checker from outside: looks at the evidence and agrees, or not</option>}
        </SelectField>
        <TextField label="Name" name="name" required maxLength={200} autoComplete="off" />
        <Acts>
          <Button look="plain">Make a link</Button>
        </Acts>
      </ActionForm>
      {path !== null && (
        <p>
          <Code wrap>{`${window.location.origin}${path}`}</Code>
        </p>
      )}
    </>
  );
}
