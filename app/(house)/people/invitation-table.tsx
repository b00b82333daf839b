import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import type { InvitationLine } from "@/lib/access/invitation";
import { takeBackInvitation } from "./actions";
import { dayWords } from "./day-words";

/** Invitations that nobody accepted yet. */
export function InvitationTable({ invitations }: { invitations: readonly InvitationLine[] }) {
  return (
    <DataTable caption="Invitations not accepted yet" cards>
      <TableHead columns={["Name", "Role", "Open until", spokenColumn("Withdraw")]} />
      <tbody>
        {invitations.map(({ id, name, email, role, state, expiresAt }) => (
          <tr key={id}>
            <td className={cell.wide}>
              <b>{name}</b>
              <span className={cell.second}>{email}</span>
            </td>
            <td data-label="Role">{role}</td>
            <td data-label="Open until">{state === "open" ? dayWords(expiresAt) : `ran out ${dayWords(expiresAt)}`}</td>
            <td>
              <ActionForm action={takeBackInvitation}>
                <input type="hidden" name="id" value={id} />
                <Button look="quiet">Withdraw</Button>
              </ActionForm>
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
