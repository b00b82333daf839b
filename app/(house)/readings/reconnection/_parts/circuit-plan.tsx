import Link from "next/link";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { SideSection } from "@/app/_ui/side-section";
import { TagChip } from "@/app/_ui/tag-chip";
import type { CircuitPlan } from "@/lib/registry/reconnection";
import type { LeftOff } from "@/lib/watch/reconnection";
import styles from "./plan.module.css";
import { PlanChart } from "./plan-chart";

const amps = (value: number) => `${Math.round(value * 10) / 10} A`;
const clock = (seconds: number) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;

/** One circuit's plan: what is known of the device, what to connect when, the chart behind it, and what stays off. */
export function CircuitPlanSection({ made }: { made: CircuitPlan }) {
  const { circuit, plan, deviceWords, volts } = made;
  const remarks = [...plan.remarks, ...made.receptacleNotes];
  return (
    <SideSection
      head={circuit.name}
      id={circuit.id}
      count={plan.steps.length === 1 ? "1 appliance" : `${plan.steps.length} appliances`}
      note={`${volts} V, ${circuit.deviceAmps === null ? "device not known" : `${circuit.deviceAmps} A device`}. Checked by the thermal model of ${deviceWords}.`}
    >
      <div className={styles.plan}>
        <Facts made={made} />
        {remarks.length > 0 && (
          <ul className={styles.remarks}>
            {remarks.map((remark) => (
              <li key={remark}>{remark}</li>
            ))}
          </ul>
        )}
        {plan.steps.length > 0 && (
          <>
            <Steps made={made} />
            <div className={styles.chart}>
              <PlanChart plan={made} />
            </div>
          </>
        )}
        <Off head="Do not connect again" rows={plan.barred} />
        <Off head="Not together with the others" rows={plan.left} />
      </div>
    </SideSection>
  );
}

function Facts({ made: { plan, circuit } }: { made: CircuitPlan }) {
  if (plan.steps.length === 0) return <p className={styles.facts}>Nothing on this circuit is to be connected.</p>;
  const percent = (share: number) => `${Math.round(share * 100)} %`;
  return (
    <p className={styles.facts}>
      Running together <b>{amps(plan.runningAmps)}</b>
      {circuit.deviceAmps === null ? "" : ` of ${amps(circuit.deviceAmps)}`}, highest while starting <b>{amps(plan.peakAmps)}</b>.
      {plan.heatShare !== null && plan.lastingShare !== null && (
        <>
          {" "}
          By the curve the device warms to {percent(plan.heatShare)} of its trip point meanwhile, and to {percent(plan.lastingShare)} when
          all run on for hours.
        </>
      )}
    </p>
  );
}

function Steps({ made: { plan, circuit } }: { made: CircuitPlan }) {
  return (
    <div className={styles.figures}>
      <DataTable caption={`Order of connecting on ${circuit.name}`} cards>
        <TableHead
          columns={["Done", figureColumn("After"), "Appliance", "Where", ...["Start", "Runs at", "Circuit then"].map(figureColumn)]}
        />
        <tbody>
          {plan.steps.map((step) => (
            <tr key={step.load.id}>
              <td>
                <span className={styles.tick} role="img" aria-label="to be ticked by hand" />
              </td>
              <td className={cell.num} data-label="after">
                {clock(step.atSeconds)}
              </td>
              <td>
                <TagChip tag={step.load.tag} href={`/appliances/${step.load.id}`} />
                {step.load.keepsCold && <span className={cell.second}>keeps cold, so it comes first</span>}
              </td>
              <td>
                {step.load.outlet}
                {step.load.receptacle && <span className={cell.second}>receptacle {step.load.receptacle}</span>}
              </td>
              <td className={cell.num} data-label="start">
                {amps(step.startAmps)}
                <span className={cell.second}>{step.startSeconds === 0 ? "too short to see" : `${step.startSeconds} s`}</span>
              </td>
              <td className={cell.num} data-label="runs at">
                {amps(step.runningAmps)}
              </td>
              <td className={cell.num} data-label="circuit then">
                {amps(step.sumAmps)}
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </div>
  );
}

function Off({ head, rows }: { head: string; rows: readonly LeftOff[] }) {
  if (rows.length === 0) return null;
  return (
    <div className={styles.off}>
      <h3>{head}</h3>
      <ul>
        {rows.map(({ load, why }) => (
          <li key={load.id}>
            <Link href={`/appliances/${load.id}`}>{load.tag}</Link> at {load.outlet}
            {load.receptacle ? `, receptacle ${load.receptacle}` : ""}: {why}
          </li>
        ))}
      </ul>
    </div>
  );
}
