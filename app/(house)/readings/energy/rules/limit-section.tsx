import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, SelectField, TextField } from "@/app/_ui/field";
import { FormId } from "@/app/_ui/form-id";
import { SideSection } from "@/app/_ui/side-section";
import { asSignalWord, SignalWord } from "@/app/_ui/signal-word";
import type { ShownLimit } from "@/lib/registry/energy-limit";
import { dayKinds } from "@/lib/watch/energy-hour";
import { addLimitAction } from "../actions";
import styles from "./rules.module.css";
import { TakeAway } from "./take-away";

interface Named {
  readonly id: string;
  readonly name: string;
}

interface Props {
  readonly siteId: string;
  readonly limits: readonly ShownLimit[];
  readonly units: readonly Named[];
  readonly circuits: readonly Named[];
  readonly appliances: readonly Named[];
  readonly mayEdit: boolean;
  readonly today: string;
}

/** A site's use limits, and the form for another. */
export function LimitSection({ siteId, limits, units, circuits, appliances, mayEdit, today }: Props) {
  return (
    <SideSection
      head="Use limits"
      id="limits"
      count={limits.length || "none"}
      note="A day that passes its limit opens one finding for the limit, refreshed as other days pass it."
    >
      {limits.length > 0 && (
        <DataTable caption="Use limits" cards>
          <TableHead columns={["Of", figureColumn("At most"), "When", "Finding", ...(mayEdit ? ["Change"] : [])]} />
          <tbody>
            {limits.map(({ limit, name }) => (
              <tr key={limit.id}>
                <th scope="row">{name}</th>
                <td className={cell.num}>{limit.kilowattHours} kWh</td>
                <td>
                  {limit.fromHour === 0 && limit.toHour === 24 ? "a day" : `${limit.fromHour} to ${limit.toHour} h`}, {limit.days}
                  <span className={cell.second}>from {limit.validFrom} on</span>
                </td>
                <td>
                  <SignalWord word={asSignalWord(limit.signalWord) ?? "NOTICE"} />
                </td>
                {mayEdit && (
                  <td>
                    <TakeAway siteId={siteId} id={limit.id} kind="limit" name={`limit of ${name}`} />
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      {mayEdit && <LimitForm siteId={siteId} units={units} circuits={circuits} appliances={appliances} today={today} />}
    </SideSection>
  );
}

function LimitForm({ siteId, units, circuits, appliances, today }: Omit<Props, "limits" | "mayEdit">) {
  return (
    <details className={styles.more}>
      <summary>Add a use limit</summary>
      <ActionForm action={addLimitAction} done="The limit is added, and the last 35 days were judged by it.">
        <input type="hidden" name="siteId" value={siteId} />
        <FormId />
        <FieldColumns>
          <SelectField label="Of" name="about" defaultValue={`site:${siteId}`}>
            <option value={`site:${siteId}`}>the whole site</option>
            <Things label="Units" kind="unit" list={units} />
            <Things label="Circuits" kind="circuit" list={circuits} />
            <Things label="Appliances with energy lately" kind="appliance" list={appliances} />
          </SelectField>
          <TextField label="At most, kWh" name="kilowattHours" required inputMode="decimal" autoComplete="off" />
          <TextField
            label="From hour"
            name="fromHour"
            defaultValue="0"
            inputMode="numeric"
            hint="0 to 24 is the whole day; 22 to 6 runs over midnight."
          />
          <TextField label="To hour" name="toHour" defaultValue="24" inputMode="numeric" />
          <SelectField label="Days" name="days" defaultValue={dayKinds[0]}>
            {dayKinds.map((kind) => (
              <option key={kind}>{kind}</option>
            ))}
          </SelectField>
          <SelectField label="Opens a" name="signalWord" defaultValue="NOTICE">
            <option>NOTICE</option>
            <option>CAUTION</option>
          </SelectField>
          <TextField label="From day" name="validFrom" type="date" defaultValue={today} required />
        </FieldColumns>
        <Acts>
          <Button look="main">Add the limit</Button>
        </Acts>
      </ActionForm>
    </details>
  );
}

function Things({ label, kind, list }: { label: string; kind: string; list: readonly Named[] }) {
  if (list.length === 0) return null;
  return (
    <optgroup label={label}>
      {list.map(({ id, name }) => (
        <option key={id} value={`${kind}:${id}`}>
          {name}
        </option>
      ))}
    </optgroup>
  );
}
