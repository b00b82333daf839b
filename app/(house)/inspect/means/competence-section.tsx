import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { FormId } from "@/app/_ui/form-id";
import { SideSection } from "@/app/_ui/side-section";
import type { NamedCompetence } from "@/lib/registry/inspection-competence";
import styles from "../_parts/inspect.module.css";
import { LastDay } from "../_parts/last-day";
import { endCompetence, enterCompetence } from "../actions";

interface Props {
  rows: readonly NamedCompetence[];
  members: readonly { id: string; name: string }[];
  may: boolean;
  now: Date;
}

/** Who is competent to inspect, by which paper and until when. */
export function CompetenceSection({ rows, members, may, now }: Props) {
  return (
    <SideSection head="Competence" count={rows.length} note="A training, a licence, an authorisation.">
      {rows.length === 0 ? (
        <p className="soft">None is on record: every inspection is limited until there is.</p>
      ) : (
        <DataTable caption="Competences" cards top>
          <TableHead columns={["Who", "What", "Issued by", "Last day", ...(may ? [spokenColumn("Change")] : [])]} />
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <td className={cell.wide}>{row.name}</td>
                <td className={cell.wide}>{row.what}</td>
                <td className={cell.wide} data-label="issued by">
                  {row.issuedBy}
                </td>
                <td className={cell.wide} data-label="last day">
                  <LastDay at={row.validUntil} none="no end" now={now} />
                </td>
                {may && (
                  <td className={cell.wide}>
                    <EndIt id={row.id} />
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      {may && <NewCompetence members={members} />}
    </SideSection>
  );
}

function EndIt({ id }: { id: string }) {
  return (
    <details>
      <summary>End it</summary>
      <ActionForm action={endCompetence}>
        <input type="hidden" name="id" value={id} />
        <TextField label="Why it ends" name="why" required maxLength={500} />
        <Acts>
          <Button look="plain">End it</Button>
        </Acts>
      </ActionForm>
    </details>
  );
}

function NewCompetence({ members }: Pick<Props, "members">) {
  return (
    <details className={styles.enter}>
      <summary>Enter a competence</summary>
      <ActionForm action={enterCompetence} done="Entered.">
        <FormId />
        <FieldColumns>
          <SelectField label="Person" name="userId" required defaultValue="">
            <option value="" disabled>
              choose
            </option>
            <NamedOptions list={members} />
          </SelectField>
          <TextField label="What" name="what" required maxLength={200} hint="Such as a course, a licence, an authorisation." />
          <TextField label="Issued by" name="issuedBy" required maxLength={200} />
          <TextField label="Valid until" name="validUntil" type="date" hint="Empty where it has no end." />
        </FieldColumns>
        <Acts>
          <Button look="plain">Enter the competence</Button>
        </Acts>
      </ActionForm>
    </details>
  );
}
