import { Button } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { TextField } from "@/app/_ui/field";
import { FilterBar } from "@/app/_ui/filter-bar";
import { PlainSection } from "@/app/_ui/side-section";
import type { ReconnectionView } from "@/lib/registry/reconnection";
import { type LegSum, legVerdict } from "@/lib/watch/reconnection-service";
import styles from "./plan.module.css";

const amps = (value: number) => `${Math.round(value * 10) / 10} A`;

const verdicts = {
  "too much": "More than the device carries: leave circuits off, or connect them while others are off.",
  continuous: "Too much for three hours or more: leave something off.",
  "in turn": "One circuit after the other only: begin the next one when the plan of the one before has ended.",
  fits: "Fits, also when all circuits begin at once.",
} as const;

/** What all circuits draw together on each leg of the service, against the rating of its device where somebody states it. */
export function ServiceSection({ view, serviceAmps }: { view: ReconnectionView; serviceAmps: number | null }) {
  return (
    <PlainSection head="The service" id="service">
      <div className={styles.figures}>
        <DataTable caption="What the circuits of each leg draw together" cards>
          <TableHead
            columns={[
              "Leg",
              ...["Circuits", "Running together", "Highest, all at once", "Highest, in turn"].map(figureColumn),
              `Against ${serviceAmps === null ? "the device" : amps(serviceAmps)}`,
            ]}
          />
          <tbody>
            {view.legs.map((sum) => (
              <Leg key={sum.leg ?? ""} sum={sum} serviceAmps={serviceAmps} share={view.continuousShare} />
            ))}
          </tbody>
        </DataTable>
      </div>
      <FilterBar action="/readings/reconnection#service" label="The service's device" key={`${view.site.id} ${serviceAmps}`}>
        <TextField
          label="Rating of the service's device, A"
          name="service"
          defaultValue={serviceAmps ?? ""}
          inputMode="decimal"
          hint="As stamped on the main device, such as 100."
        />
        <input type="hidden" name="site" value={view.site.id} />
        <input type="hidden" name="seed" value={view.seed} />
        <Button>Check</Button>
      </FilterBar>
    </PlainSection>
  );
}

function Leg({ sum, serviceAmps, share }: { sum: LegSum; serviceAmps: number | null; share: number }) {
  const verdict = serviceAmps === null ? null : legVerdict(sum, serviceAmps, share);
  return (
    <tr>
      <th scope="row">{sum.leg === null ? "not known" : `leg ${sum.leg}`}</th>
      <td className={cell.num} data-label="Circuits">
        {sum.circuits}
      </td>
      <td className={cell.num} data-label="Running together">
        {amps(sum.runningAmps)}
      </td>
      <td className={cell.num} data-label="Highest, all at once">
        {amps(sum.atOncePeak)}
      </td>
      <td className={cell.num} data-label="Highest, in turn">
        {amps(sum.inTurnPeak)}
      </td>
      <td data-label="Against the device">
        {verdict === null ? (
          <span className="soft">State its rating below.</span>
        ) : (
          <span className={verdict === "too much" ? "over" : undefined}>{verdicts[verdict]}</span>
        )}
      </td>
    </tr>
  );
}
