import Link from "next/link";
import { cell, DataTable } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import type { NamedEnergy } from "@/lib/registry/energy-split";
import type { EnergyQuery, EnergyView } from "@/lib/registry/energy-view";
import { kilowattHours } from "@/lib/watch/energy-sum";
import styles from "./energy.module.css";
import { energyHref, microjouleWords, percent, timeLength } from "./energy-words";

const heads = { unit: "Unit", circuit: "Circuit", outlet: "Outlet", appliance: "Appliance" } as const;

/** Where a part's own page is: deeper into the building, an appliance's own sheet beside it. */
function partHref(query: EnergyQuery, split: EnergyView["split"], id: string): string {
  const next = { unit: "outlet", circuit: "outlet", outlet: "appliance", appliance: "appliance" } as const;
  return energyHref(query, { [split]: id, split: next[split] });
}

/** The parts of the sum, which add up to it exactly, with their time without readings. */
export function SplitSection({ view, query, exportHref }: { view: EnergyView; query: EnergyQuery; exportHref: string }) {
  const { parts, split, microjoules } = view;
  const total = kilowattHours(microjoules);
  return (
    <PlainSection
      head={`By ${split}`}
      id="parts"
      aside={
        <a className="small" href={exportHref} download>
          Export the hours as CSV
        </a>
      }
    >
      <div className={styles.figures}>
        <DataTable caption={`Energy by ${split}`} cards>
          <thead>
            <tr>
              <th scope="col">{heads[split]}</th>
              <th scope="col" className={cell.num}>
                Energy
              </th>
              <th scope="col" className={cell.num}>
                Share
              </th>
              <th scope="col" className={styles.shareCell}>
                <span className="vh">Share as a bar</span>
              </th>
              <th scope="col" className={cell.num}>
                Measured
              </th>
              <th scope="col" className={cell.num}>
                No reading
              </th>
            </tr>
          </thead>
          <tbody>
            {parts.map((part) => (
              <PartRow
                key={part.id ?? ""}
                part={part}
                share={total === 0 ? 0 : kilowattHours(part.microjoules) / total}
                href={part.id === null ? null : partHref(query, split, part.id)}
              />
            ))}
            <tr>
              <th scope="row">Together</th>
              <td className={cell.num}>
                <b>{microjouleWords(microjoules)} kWh</b>
              </td>
              <td className={cell.num}>{total === 0 ? "" : "100 %"}</td>
              <td className={cell.gone} />
              <td className={cell.gone} />
              <td className={cell.gone} />
            </tr>
          </tbody>
        </DataTable>
      </div>
    </PlainSection>
  );
}

function PartRow({ part, share, href }: { part: NamedEnergy; share: number; href: string | null }) {
  return (
    <tr>
      <th scope="row">
        {href === null ? part.name : <Link href={href}>{part.name}</Link>}
        {part.detail && <span className={cell.second}>{part.detail}</span>}
      </th>
      <td className={cell.num} data-label="energy">
        {microjouleWords(part.microjoules)} kWh
      </td>
      <td className={cell.num} data-label="share">
        {percent(share)}
      </td>
      <td className={`${styles.shareCell} ${cell.gone}`}>
        <span className={styles.share} style={{ width: `${Math.round(share * 1000) / 10}%` }} />
      </td>
      <td className={cell.num} data-label="measured">
        {timeLength(part.measuredMs)}
      </td>
      <td className={cell.num} data-label="no reading">
        {timeLength(part.gapMs)}
      </td>
    </tr>
  );
}
