import type { Metadata } from "next";
import { headers } from "next/headers";
import { forPage, requirePage } from "@/app/_server/page";
import { sessionIdOf } from "@/app/_server/session";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { SideSection } from "@/app/_ui/side-section";
import { type OwnAccount, ownAccount } from "@/lib/access/own-account";
import { shortestPassword } from "@/lib/access/password-rule";
import { changePassword, endOthers, takePasskeyAway } from "./actions";
import { AddPasskey } from "./add-passkey";
import { addressWords, browserWords, minuteWords } from "./browser-words";
import { SecondStep } from "./second-step";

export const metadata: Metadata = { title: "Your account" };

export default async function AccountPage() {
  const { db, actor, now } = await requirePage("keep own account");
  const sessionId = await sessionIdOf(await headers());
  const account = await forPage(ownAccount(db, actor, { sessionId, now }));
  return (
    <>
      <PageHead
        title="Your account"
        lead="How you sign in, and where you are signed in now."
        cells={[
          { label: "Name", value: account.name },
          { label: "E-mail address", value: account.email },
          { label: "Role", value: actor.role },
        ]}
      />
      <SideSection head="Password" id="password" note="Changing it signs you out everywhere else.">
        <ActionForm action={changePassword} done="Changed. All other browsers are signed out.">
          <input type="hidden" name="username" autoComplete="username" value={account.email} readOnly />
          <FieldColumns>
            <TextField label="Present password" name="present" type="password" autoComplete="current-password" required />
            <TextField
              label="New password"
              name="password"
              type="password"
              autoComplete="new-password"
              required
              hint={`At least ${shortestPassword} characters; a few words that have nothing to do with each other are good.`}
            />
          </FieldColumns>
          <Acts>
            <Button>Change it</Button>
          </Acts>
        </ActionForm>
      </SideSection>
      <SideSection
        head="Second step"
        id="second"
        note="A code of an authenticator after the password, so that the password alone opens nothing."
      >
        <SecondStep isOn={account.hasSecondStep} />
      </SideSection>
      <Passkeys account={account} />
      <Sessions account={account} />
    </>
  );
}

function Passkeys({ account: { passkeys } }: { account: OwnAccount }) {
  const note = "A key kept by your device, opened with your fingerprint, face or its code. It stands for password and second step at once.";
  return (
    <SideSection head="Passkeys" id="passkeys" count={String(passkeys.length)} note={note}>
      {passkeys.length > 0 && (
        <DataTable caption="Your passkeys" cards>
          <TableHead columns={["Name", "Added (UTC)", spokenColumn("Take away")]} />
          <tbody>
            {passkeys.map(({ id, name, createdAt }) => (
              <tr key={id}>
                <td data-label="Name">{name ?? "without a name"}</td>
                <td data-label="Added (UTC)">{createdAt ? minuteWords(createdAt) : "not known"}</td>
                <td>
                  <ActionForm action={takePasskeyAway}>
                    <input type="hidden" name="id" value={id} />
                    <Button look="quiet">Take away</Button>
                  </ActionForm>
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      <AddPasskey />
    </SideSection>
  );
}

function Sessions({ account: { sessions } }: { account: OwnAccount }) {
  return (
    <SideSection head="Signed in" id="sessions" count={String(sessions.length)} note="End what you do not know, then change your password.">
      <DataTable caption="Browsers in which you are signed in" cards>
        <TableHead columns={["Browser", "Address", "Since (UTC)", "Last seen (UTC)", spokenColumn("End")]} />
        <tbody>
          {sessions.map((session) => (
            <tr key={session.id} className={session.isThisOne ? cell.chosen : undefined}>
              <td data-label="Browser">
                {session.isThisOne ? `${browserWords(session.browser)}, this one` : browserWords(session.browser)}
              </td>
              <td className={cell.wide} data-label="Address">
                {addressWords(session.address)}
              </td>
              <td data-label="Since (UTC)">{minuteWords(session.since)}</td>
              <td data-label="Last seen (UTC)">{minuteWords(session.lastSeen)}</td>
              <td>
                {!session.isThisOne && (
                  <ActionForm action={endOthers}>
                    <input type="hidden" name="which" value={session.id} />
                    <Button look="quiet">End it</Button>
                  </ActionForm>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
      {sessions.length > 1 && (
        <ActionForm action={endOthers} done="Ended.">
          <Acts>
            <Button look="plain">End all others</Button>
          </Acts>
        </ActionForm>
      )}
    </SideSection>
  );
}
