import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { FormId } from "@/app/_ui/form-id";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { grantableSites } from "@/lib/access/grantable-sites";
import { RoleAndSites } from "../role-and-sites";
import { InviteForm } from "./invite-form";

export const metadata: Metadata = { title: "Invite a person" };

export default async function InvitePage() {
  const { db, actor } = await requirePage("manage people");
  const grantable = await forPage(grantableSites(db, actor));
  return (
    <>
      <PageHead title="Invite a person" crumbs={[{ label: "People", href: "/people" }, { label: "invite" }]} />
      <SideSection
        head="Who"
        note="The person opens a link, chooses a password and belongs to the organisation. The link works once, for a week."
      >
        <InviteForm>
          <FormId />
          <FieldColumns>
            <TextField label="Name" name="name" required maxLength={200} autoComplete="off" />
            <TextField label="E-mail address" name="email" type="email" required maxLength={320} autoComplete="off" />
          </FieldColumns>
          <RoleAndSites chosen="surveyor" sites={grantable.all ? "all" : []} grantable={grantable} />
        </InviteForm>
      </SideSection>
    </>
  );
}
