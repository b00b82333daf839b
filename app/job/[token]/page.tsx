import type { Metadata } from "next";
import { guestFileLines } from "@/app/_server/guest-file-lines";
import { requireLink } from "@/app/_server/link";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { DoorSheet } from "@/app/_ui/door-sheet";
import { AreaField, CheckField } from "@/app/_ui/field";
import { GuestCase } from "@/app/_ui/guest-case";
import { GuestFileForm, KeptFiles } from "@/app/_ui/kept-files";
import { readCase } from "@/lib/registry/case-link";
import { report } from "./actions";

export const metadata: Metadata = { title: "One job", referrer: "same-origin" };

export default async function JobPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const opened = await requireLink(async (context) => ({
    ...(await readCase(context.db, "contractor", { token, now: context.now })),
    files: await guestFileLines(context, "contractor", token),
  }));
  if (!opened.ok) return <DoorSheet title="One job" lead={opened.problem} />;
  const { name, organisation, shown, lines, files } = opened.value;
  return (
    <DoorSheet title="One job" lead={`For ${name}, from ${organisation}. This page shows this one job and nothing else.`}>
      <GuestCase shown={shown} lines={lines} />
      <h2>Photos and documents</h2>
      <KeptFiles files={files} path={`/link-files/contractor/${token}`} />
      <GuestFileForm kind="contractor" token={token} back={`/job/${token}`} />
      <h2>Report</h2>
      <ActionForm action={report} done="Thank you: it stands with the finding.">
        <input type="hidden" name="token" value={token} />
        <AreaField label="What you found and did, and with which parts" name="text" rows={4} maxLength={4000} required />
        <CheckField label="The work is done; this page closes" name="done" />
        <Acts>
          <Button look="main">Send the report</Button>
        </Acts>
      </ActionForm>
    </DoorSheet>
  );
}
