import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, SelectField, TextField } from "@/app/_ui/field";
import { FormId } from "@/app/_ui/form-id";
import { SideSection } from "@/app/_ui/side-section";
import { windowRows } from "@/lib/registry/tariff";
import { dayKinds } from "@/lib/watch/energy-hour";
import type { Tariff } from "@/lib/watch/tariff";
import { addTariffAction } from "../actions";
import styles from "./rules.module.css";
import { TakeAway } from "./take-away";

interface Props {
  readonly siteId: string;
  readonly tariffs: readonly Tariff[];
  readonly mayEdit: boolean;
  readonly today: string;
}

/** A site's tariffs, and the form for another. */
export function TariffSection({ siteId, tariffs, mayEdit, today }: Props) {
  return (
    <SideSection
      head="Tariffs"
      id="tariffs"
      count={tariffs.length || "none"}
      note="Of two tariffs that cover a day the one that began later counts, so a rise of prices is simply added."
    >
      {tariffs.length > 0 && (
        <DataTable caption="Tariffs" cards>
          <TableHead columns={["Tariff", "Valid", "Prices of a kWh", ...(mayEdit ? ["Change"] : [])]} />
          <tbody>
            {tariffs.map((tariff) => (
              <tr key={tariff.id}>
                <th scope="row">{tariff.name}</th>
                <td className="nw">
                  {tariff.validFrom} to {tariff.validTo ?? "open"}
                </td>
                <td className={cell.wide}>
                  {tariff.currency} {tariff.prices.base}
                  {tariff.prices.windows.map((one) => (
                    <span className={cell.second} key={`${one.name}${one.fromHour}`}>
                      {one.name}: {tariff.currency} {one.price}, {one.fromHour} to {one.toHour} h, {one.days}
                    </span>
                  ))}
                </td>
                {mayEdit && (
                  <td>
                    <TakeAway siteId={siteId} id={tariff.id} kind="tariff" name={tariff.name} />
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      {mayEdit && <TariffForm siteId={siteId} today={today} isOpen={tariffs.length === 0} />}
    </SideSection>
  );
}

function TariffForm({ siteId, today, isOpen }: Pick<Props, "siteId" | "today"> & { isOpen: boolean }) {
  return (
    <details className={styles.more} open={isOpen}>
      <summary>Add a tariff</summary>
      <ActionForm action={addTariffAction} done="The tariff is added.">
        <input type="hidden" name="siteId" value={siteId} />
        <FormId />
        <FieldColumns>
          <TextField label="Name" name="name" required maxLength={80} autoComplete="off" />
          <TextField label="Currency" name="currency" required maxLength={3} hint="Three letters, such as USD." autoComplete="off" />
          <TextField
            label="Price of a kWh"
            name="base"
            required
            inputMode="decimal"
            hint="Wherever no window below holds."
            autoComplete="off"
          />
          <TextField label="First day" name="validFrom" type="date" defaultValue={today} required />
          <TextField label="Last day" name="validTo" type="date" hint="Empty: open." />
        </FieldColumns>
        {Array.from({ length: windowRows }, (_, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the rows are numbered fields of one form and never move
          <WindowFields key={i} at={i} />
        ))}
        <Acts>
          <Button look="main">Add the tariff</Button>
        </Acts>
      </ActionForm>
    </details>
  );
}

function WindowFields({ at }: { at: number }) {
  return (
    <fieldset>
      <legend className="small soft">Window {at + 1}, if prices differ by the hour</legend>
      <FieldColumns>
        <TextField label="Name" name={`window${at}name`} maxLength={40} autoComplete="off" />
        <TextField label="Price of a kWh" name={`window${at}price`} inputMode="decimal" autoComplete="off" />
        <SelectField label="Days" name={`window${at}days`} defaultValue={dayKinds[0]}>
          {dayKinds.map((kind) => (
            <option key={kind}>{kind}</option>
          ))}
        </SelectField>
        <TextField label="From hour" name={`window${at}fromHour`} inputMode="numeric" defaultValue="17" />
        <TextField label="To hour" name={`window${at}toHour`} inputMode="numeric" defaultValue="21" />
      </FieldColumns>
    </fieldset>
  );
}
