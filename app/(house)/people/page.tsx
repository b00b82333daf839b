import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { findPeople, type Person } from "@/lib/access/find-people";
import { findInvitations } from "@/lib/access/invitation";
import { dayWords } from "./day-words";
import { InvitationTable } from "./invitation-table";

export const metadata: Metadata = { title: "People" };

export default async function PeoplePage() {
  const { db, actor, organisation, now } = await requirePage("manage people");
  const people = await forPage(findPeople(db, actor));
  const invited = (await forPage(findInvitations(db, actor, now))).filter(({ state }) => state === "open" || state === "run out");
  const active = people.filter(({ endedAt }) => endedAt === null);
  const ended = people.filter(({ endedAt }) => endedAt !== null);
  return (
    <>
      <PageHead
        title="People"
        lead={
          <>
            Who may sign in to {organisation.name}, as what, and for which sites. <b>A change holds from the person's next click.</b>
          </>
        }
        cells={[
          { label: "Active", value: active.length },
          { label: "Administrators", value: active.filter(({ role }) => role === "administrator").length },
          { label: "Left", value: ended.length },
        ]}
      />
      <SideSection
        head="Active"
        count={`${active.length} ${active.length === 1 ? "person" : "people"}`}
        note={
          <>
            <ButtonLink href="/people/invite" look="main">
              Invite a person
            </ButtonLink>{" "}
            <ButtonLink href="/people/new" look="quiet">
              or add one with a password
            </ButtonLink>
          </>
        }
      >
        <PeopleTable people={active} caption="People who may sign in" />
      </SideSection>
      {invited.length > 0 && (
        <SideSection head="Invited" count={`${invited.length} open`} note="A link works once, for a week.">
          <InvitationTable invitations={invited} />
        </SideSection>
      )}
      {ended.length > 0 && (
        <SideSection head="Left" count={`${ended.length} ended`} note="They may not sign in. What they did stays in the record.">
          <PeopleTable people={ended} caption="People who left" />
        </SideSection>
      )}
    </>
  );
}

function PeopleTable({ people, caption }: { people: readonly Person[]; caption: string }) {
  return (
    <DataTable caption={caption} cards>
      <TableHead columns={["Name", "Role", "Sites", "Since", "Last sign-in"]} />
      <tbody>
        {people.map((person) => (
          <tr key={person.membershipId}>
            <td className={cell.wide}>
              {person.endedAt ? <b>{person.name}</b> : <Link href={`/people/${person.membershipId}`}>{person.name}</Link>}
              <span className={cell.second}>{person.email}</span>
            </td>
            <td>{person.role}</td>
            <td className={cell.wide} data-label="Sites">
              {person.sites === "all" ? "all sites" : person.sites.map(({ name }) => name).join(", ")}
            </td>
            <td className={cell.gone}>{dayWords(person.since)}</td>
            <td className={cell.gone}>
              {person.endedAt ? `left ${dayWords(person.endedAt)}` : person.lastSignInAt ? dayWords(person.lastSignInAt) : "not signed in"}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
