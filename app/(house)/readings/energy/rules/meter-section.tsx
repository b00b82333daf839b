import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { DataTable, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, NamedOptions, SelectField } from "@/app/_ui/field";
import { SideSection } from "@/app/_ui/side-section";
import type { EnergyRules } from "@/lib/registry/energy-rules";
import { setMeterAction } from "../actions";
import styles from "./rules.module.css";
import { TakeAway } from "./take-away";

/** Which outlets of the log are meters, and of what. */
export function MeterSection({ rules, mayEdit }: { rules: EnergyRules; mayEdit: boolean }) {
  const { site, meters, names } = rules;
  const named = (list: readonly { id: string; name: string }[], id: string | null) => list.find((one) => one.id === id)?.name ?? "gone";
  return (
    <SideSection
      head="Meters"
      id="meters"
      count={meters.length || "none"}
      note="A meter's readings come in the same log under an outlet's name. It is left out of the sums and compared with them."
    >
      {meters.length === 0 ? (
        <p className="soft">No meter is known here: the sum of the outlets is all that is known.</p>
      ) : (
        <DataTable caption="Meters" cards>
          <TableHead columns={["In the log", "Measures", ...(mayEdit ? ["Change"] : [])]} />
          <tbody>
            {meters.map(({ outletId, circuitId }) => (
              <tr key={outletId}>
                <th scope="row">{named(names.outlets, outletId)}</th>
                <td>{circuitId === null ? "the whole site" : `circuit ${named(names.circuits, circuitId)}`}</td>
                {mayEdit && (
                  <td>
                    <TakeAway siteId={site.id} id={outletId} kind="meter" name={named(names.outlets, outletId)} />
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      {mayEdit && <MeterForm rules={rules} />}
    </SideSection>
  );
}

function MeterForm({ rules: { site, names } }: { rules: EnergyRules }) {
  const free = names.outlets.filter(({ circuitId }) => circuitId === null);
  return (
    <details className={styles.more}>
      <summary>Say that an outlet is a meter</summary>
      {free.length === 0 ? (
        <p className="soft">
          Every outlet of this site lies on a circuit. Add one without a circuit under Building, named as the meter is in the log.
        </p>
      ) : (
        <ActionForm action={setMeterAction} done="The meter is set.">
          <input type="hidden" name="siteId" value={site.id} />
          <FieldColumns>
            <SelectField label="In the log" name="outletId" hint="Only outlets on no circuit, so that nothing is counted twice.">
              <NamedOptions list={free} />
            </SelectField>
            <SelectField label="Measures" name="circuitId" defaultValue="">
              <option value="">the whole site</option>
              {names.circuits.map(({ id, name }) => (
                <option key={id} value={id}>
                  circuit {name}
                </option>
              ))}
            </SelectField>
          </FieldColumns>
          <Acts>
            <Button look="main">Set the meter</Button>
          </Acts>
        </ActionForm>
      )}
    </details>
  );
}
