import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { grantableSites } from "@/lib/access/grantable-sites";
import { shortestPassword } from "@/lib/access/password-rule";
import { add } from "../actions";
import { RoleAndSites } from "../role-and-sites";

export const metadata: Metadata = { title: "Add a person" };

export default async function NewPersonPage() {
  const { db, actor } = await requirePage("manage people");
  const grantable = await forPage(grantableSites(db, actor));
  return (
    <>
      <PageHead title="Add a person" crumbs={[{ label: "People", href: "/people" }, { label: "new" }]} />
      <SideSection head="Who" note="There is no sign-up: people exist here because you add them. Hand the first password over in person.">
        <ActionForm action={add}>
          <FieldColumns>
            <TextField label="Name" name="name" required maxLength={200} autoComplete="off" />
            <TextField label="E-mail address" name="email" type="email" required maxLength={320} autoComplete="off" />
            <TextField
              label="First password"
              name="password"
              type="password"
              required
              autoComplete="new-password"
              hint={`At least ${shortestPassword} characters; a few words that have nothing to do with each other are good.`}
            />
          </FieldColumns>
          <RoleAndSites chosen="surveyor" sites={grantable.all ? "all" : []} grantable={grantable} />
          <Acts>
            <Button look="main">Add</Button>
            <ButtonLink href="/people" look="quiet">
              Leave it
            </ButtonLink>
          </Acts>
        </ActionForm>
      </SideSection>
    </>
  );
}
