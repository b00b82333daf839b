import Link from "next/link";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { EnergyView } from "@/lib/registry/energy-view";
import styles from "./energy.module.css";
import { microjouleWords, money } from "./energy-words";

/** What the energy shown cost by the site's tariffs; what none covers is said. */
export function CostSection({ view }: { view: EnergyView }) {
  const { cost, hasTariff, site } = view;
  const rules = <Link href={`/readings/energy/rules?site=${site.id}`}>{hasTariff ? "Change the tariffs" : "Add a tariff"}</Link>;
  return (
    <PlainSection head="Cost" id="cost" aside={<span className="small">{rules}</span>}>
      {cost.lines.length === 0 ? (
        <p className="soft">{hasTariff ? "No tariff covers these days." : "This site has no tariff yet, so no cost is shown."}</p>
      ) : (
        <div className={styles.figures}>
          <DataTable caption="Cost by price" cards>
            <TableHead columns={["Tariff", "Hours", ...["Energy", "Price of a kWh", "Cost"].map(figureColumn)]} />
            <tbody>
              {cost.lines.map((line) => (
                <tr key={`${line.tariff} ${line.window} ${line.price}`}>
                  <td>{line.tariff}</td>
                  <td data-label="hours">{line.window}</td>
                  <td className={cell.num} data-label="energy">
                    {microjouleWords(line.microjoules)} kWh
                  </td>
                  <td className={cell.num} data-label="price of a kWh">
                    {line.currency} {line.price}
                  </td>
                  <td className={cell.num} data-label="cost">
                    {money(line.currency, line.cost)}
                  </td>
                </tr>
              ))}
              {cost.totals.map(({ currency, cost: total }) => (
                <tr key={currency}>
                  <th scope="row" colSpan={4}>
                    Together
                  </th>
                  <td className={cell.num}>
                    <b>{money(currency, total)}</b>
                  </td>
                </tr>
              ))}
            </tbody>
          </DataTable>
        </div>
      )}
      {cost.lines.length > 0 && cost.unpriced > 0n && (
        <p className="small soft">{microjouleWords(cost.unpriced)} kWh fall on days that no tariff covers; they are not in the cost.</p>
      )}
    </PlainSection>
  );
}
