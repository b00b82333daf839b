import Link from "next/link";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { LimitBar } from "@/app/_ui/limit-bar";
import { PlainSection } from "@/app/_ui/side-section";
import { SignalWord } from "@/app/_ui/signal-word";
import type { LoadedCircuit, SiteView, UnitCell } from "@/lib/registry/place-building";

function busiest(unit: UnitCell): LoadedCircuit | null {
  return [...unit.circuits].sort((a, b) => (b.share ?? -1) - (a.share ?? -1))[0] ?? null;
}

/** The units as a list: the same as the elevation in words and figures, and what a phone shows instead of it. */
export function UnitList({ view }: { view: SiteView }) {
  const units = view.floors.flatMap((floor) => floor.units);
  return (
    <PlainSection head="Units" aside={<span className="small soft">the busiest circuit of each against its device</span>}>
      <DataTable caption="Units" cards>
        <TableHead columns={["Unit", "Open", "Busiest circuit", figureColumn("Appliances")]} />
        <tbody>
          {units.map((unit) => {
            const circuit = busiest(unit);
            return (
              <tr key={unit.id}>
                <th scope="row">
                  <Link href={`/building/${unit.siteId}?unit=${unit.id}`}>{unit.name}</Link>
                </th>
                <td>{unit.word ? <SignalWord word={unit.word} /> : <span className="mute">nothing</span>}</td>
                <td className={cell.wide}>
                  {circuit ? (
                    <LimitBar seen={circuit.amps} allowed={circuit.circuit.deviceAmps} unit="A" limitWord="device" />
                  ) : (
                    <span className="mute">no circuit</span>
                  )}
                </td>
                <td className={cell.num} data-label="appliances">
                  {unit.appliances}
                </td>
              </tr>
            );
          })}
        </tbody>
      </DataTable>
    </PlainSection>
  );
}
