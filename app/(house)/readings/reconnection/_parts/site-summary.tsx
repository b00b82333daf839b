import Link from "next/link";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { ReconnectionView } from "@/lib/registry/reconnection";

import styles from "./plan.module.css";

const amps = (value: number) => `${Math.round(value * 10) / 10} A`;

/** All circuits of a site against their devices, each leading to its own plan; circuits with nothing plugged in are counted only. */
export function SiteSummary({ view }: { view: ReconnectionView }) {
  const listed = view.plans.filter(({ plan }) => plan.steps.length + plan.barred.length + plan.left.length > 0);
  const busy = listed.toSorted((a, b) => b.plan.barred.length - a.plan.barred.length || b.plan.left.length - a.plan.left.length);
  const bare = view.plans.length - busy.length;
  const all = `/readings/reconnection?site=${view.site.id}&seed=${view.seed}&show=all`;
  return (
    <PlainSection head="Circuits" id="circuits" aside={<Link href={all}>All plans on one page, to print</Link>}>
      <div className={styles.figures}>
        <DataTable caption="Circuits and their reconnection plans, those with something to decide first" cards>
          <TableHead
            columns={[
              "Circuit",
              ...["Running together", "Connect", "Highest start", "Warms to", "Not together", "Not at all"].map(figureColumn),
            ]}
          />
          <tbody>
            {busy.map(({ circuit, plan }) => (
              <tr key={circuit.id}>
                <th scope="row">
                  <Link href={`/readings/reconnection?circuit=${circuit.id}&seed=${view.seed}`}>{circuit.name}</Link>
                </th>
                <td className={cell.num} data-label="Running together">
                  {amps(plan.runningAmps)}
                  {circuit.deviceAmps === null ? ", device not known" : ` of ${amps(circuit.deviceAmps)}`}
                </td>
                <td className={cell.num} data-label="Connect">
                  {plan.steps.length}
                </td>
                <td className={cell.num} data-label="Highest start">
                  {amps(plan.peakAmps)}
                </td>
                <td className={cell.num} data-label="Warms to">
                  {plan.heatShare === null ? "not known" : `${Math.round(plan.heatShare * 100)} % of trip`}
                </td>
                <td className={cell.num} data-label="Not together">
                  {plan.left.length === 0 ? "none" : <b>{plan.left.length}</b>}
                </td>
                <td className={cell.num} data-label="Not at all">
                  {plan.barred.length === 0 ? "none" : <span className="over">{plan.barred.length}</span>}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      </div>
      {bare > 0 && (
        <p className="small soft">
          {bare} {bare === 1 ? "circuit has" : "circuits have"} no appliance with a known outlet and {bare === 1 ? "is" : "are"} not listed.
        </p>
      )}
    </PlainSection>
  );
}
