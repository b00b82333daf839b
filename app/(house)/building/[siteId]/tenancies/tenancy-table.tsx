import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { DataTable, TableHead } from "@/app/_ui/data-table";
import { TextField } from "@/app/_ui/field";
import { asLanguage, occupantTexts } from "@/lib/casework/occupant-texts";
import type { SiteOccupants } from "@/lib/registry/tenancy";
import type { Tenancy } from "@/lib/store/occupant-queries";
import { end, erase } from "./actions";

interface Shown {
  readonly all: SiteOccupants;
  readonly tenancies: readonly Tenancy[];
  readonly today: Date;
}

const dayWords = (at: Date) => at.toISOString().slice(0, 10);

/** Occupants with their unit and time, and how each tenancy ends or its name is erased. */
export function TenancyTable({ all, tenancies, today }: Shown) {
  if (tenancies.length === 0) return <p className="soft">Nobody is entered.</p>;
  const units = new Map(all.units.map(({ id, name }) => [id, name]));
  return (
    <DataTable caption="Occupants" cards>
      <TableHead columns={["Unit", "Name", "E-mail", "Language", "From, to", "Next"]} />
      <tbody>
        {tenancies.map((tenancy) => (
          <tr key={tenancy.id}>
            <td data-label="Unit">{units.get(tenancy.unitId) ?? "gone"}</td>
            <td data-label="Name">
              {tenancy.name ?? <span className="soft">erased</span>}
              {tenancy.note && <div className="small soft">{tenancy.note}</div>}
            </td>
            <td data-label="E-mail">{tenancy.email ?? <span className="soft">none</span>}</td>
            <td data-label="Language">{occupantTexts[asLanguage(tenancy.language)].language_name}</td>
            <td data-label="From, to" className="nw">
              {dayWords(tenancy.fromAt)}, {tenancy.toAt ? dayWords(tenancy.toAt) : "on"}
            </td>
            <td data-label="Next">
              <Next tenancy={tenancy} today={today} />
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}

function Next({ tenancy, today }: { tenancy: Tenancy; today: Date }) {
  const isPast = tenancy.toAt !== null && tenancy.toAt <= today;
  if (isPast && tenancy.erasedAt !== null) return <span className="soft">nothing</span>;
  return (
    <ActionForm action={isPast ? erase : end} done="Recorded.">
      <input type="hidden" name="id" value={tenancy.id} />
      {!isPast && <TextField label="Last day" name="toAt" type="date" required defaultValue={dayWords(tenancy.toAt ?? today)} />}
      <Acts>
        <Button look="quiet">{isPast ? "Erase name and address" : "End it, and its links"}</Button>
      </Acts>
    </ActionForm>
  );
}
