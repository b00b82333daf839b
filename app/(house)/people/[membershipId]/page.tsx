import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { forPage, requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { Seen } from "@/app/_ui/seen";
import { SideSection } from "@/app/_ui/side-section";
import { RecordTimeline } from "@/app/(house)/_record/record-timeline";
import { personSeen } from "@/lib/access/change-person";
import { findPeople } from "@/lib/access/find-people";
import { grantableSites } from "@/lib/access/grantable-sites";
import { shortestPassword } from "@/lib/access/password-rule";
import { change, end, setPassword } from "../actions";
import { dayWords } from "../day-words";
import { RoleAndSites } from "../role-and-sites";

export const metadata: Metadata = { title: "Person" };

export default async function PersonPage({ params }: { params: Promise<{ membershipId: string }> }) {
  const { db, actor } = await requirePage("manage people");
  const { membershipId } = await params;
  const people = await forPage(findPeople(db, actor));
  const person = people.find((one) => one.membershipId === membershipId && one.endedAt === null);
  if (!person) notFound();
  const grantable = await forPage(grantableSites(db, actor));
  const sites = person.sites === "all" ? "all" : person.sites.map(({ id }) => id);
  const which = <input type="hidden" name="membershipId" value={membershipId} />;
  return (
    <>
      <PageHead
        title={person.name}
        lead={person.email}
        crumbs={[{ label: "People", href: "/people" }, { label: person.name }]}
        cells={[
          { label: "Role", value: person.role },
          { label: "Since", value: dayWords(person.since) },
        ]}
      />
      <SideSection head="Role and sites" note="Holds from the person's next click.">
        <ActionForm action={change} done="Changed.">
          {which}
          <Seen values={personSeen({ role: person.role, sites })} />
          <RoleAndSites chosen={person.role} sites={sites} grantable={grantable} />
          <Acts>
            <Button look="main">Save</Button>
          </Acts>
        </ActionForm>
      </SideSection>
      <SideSection head="Password" note="Ends every session of this person.">
        <ActionForm action={setPassword} done="The new password holds; all sessions were ended.">
          {which}
          <FieldColumns>
            <TextField
              label="New password"
              name="password"
              type="password"
              required
              autoComplete="new-password"
              hint={`At least ${shortestPassword} characters.`}
            />
          </FieldColumns>
          <Acts>
            <Button>Set the password</Button>
          </Acts>
        </ActionForm>
      </SideSection>
      <SideSection head="End" note="The person may not sign in any more. What they did stays in the record; they can be added again.">
        <ActionForm action={end}>
          {which}
          <Acts>
            <Button>End the membership of {person.name}</Button>
          </Acts>
        </ActionForm>
      </SideSection>
      <RecordTimeline db={db} actor={actor} ids={[membershipId]} />
    </>
  );
}
