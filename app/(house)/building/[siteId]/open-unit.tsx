import Link from "next/link";
import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import { LimitBar } from "@/app/_ui/limit-bar";
import { Plate } from "@/app/_ui/plate";
import { PlainSection } from "@/app/_ui/side-section";
import { TagChip } from "@/app/_ui/tag-chip";
import type { Actor } from "@/lib/access/actor";
import { type LoadedCircuit, type SiteView, type UnitCell, unitAppliances } from "@/lib/registry/place-building";
import { receptacleWords } from "@/lib/registry/place-name";
import type { Appliance } from "@/lib/store/appliance-queries";
import type { Store } from "@/lib/store/client";
import { plateOf, seenAgainstAllowed } from "../../appliances/_parts/plate-of";
import styles from "./site.module.css";

const mostShown = 12;

/** A unit opened: its circuits with their outlets and loads, and what is plugged in. */
export async function OpenUnit(props: { db: Store; actor: Actor; view: SiteView; unit: UnitCell }) {
  const { db, actor, view, unit } = props;
  const appliances = await unitAppliances(db, actor, unit);
  const outlets = view.outlets.filter((outlet) => outlet.unitId === unit.id);
  const rest = outlets.filter((outlet) => !unit.circuits.some(({ circuit }) => circuit.id === outlet.circuitId));
  const count = (n: number, word: string) => `${n} ${word}${n === 1 ? "" : "s"}`;
  return (
    <div>
      <PlainSection
        head={`Unit ${unit.name}, opened`}
        id="unit"
        aside={
          <span className="small soft">
            {count(unit.circuits.length, "circuit")}, {count(outlets.length, "outlet")}, {count(appliances.length, "appliance")}.{" "}
            <Link href={`/building/${view.site.id}`} scroll={false}>
              Close it
            </Link>
          </span>
        }
      >
        <div className={styles.panel}>
          {unit.circuits.map((loaded) => (
            <CircuitRow key={loaded.circuit.id} loaded={loaded} view={view} appliances={appliances} />
          ))}
          {unit.circuits.length === 0 && <p className="soft">No circuit is laid out for this unit.</p>}
          {rest.length > 0 && (
            <p className="small soft">Outlets on no circuit of this unit: {rest.map((outlet) => outlet.name).join(", ")}</p>
          )}
        </div>
      </PlainSection>
      <UnitAppliances view={view} unit={unit} appliances={appliances} />
    </div>
  );
}

/** What the load of a circuit means, for the eye that cannot see the bar. */
function CircuitRow({ loaded, view, appliances }: { loaded: LoadedCircuit; view: SiteView; appliances: readonly Appliance[] }) {
  const { circuit, amps, share } = loaded;
  const outlets = view.outlets.filter((outlet) => outlet.circuitId === circuit.id);
  return (
    <div className={styles.circuit}>
      <span className={styles.device}>{circuit.deviceAmps === null ? "? A" : `${circuit.deviceAmps} A`}</span>
      <div>
        <div className={styles.name}>
          <b>{circuit.name}</b> {[circuit.volts && `${circuit.volts} V`, circuit.leg && `leg ${circuit.leg}`].filter(Boolean).join(", ")}
          {share !== null && ", "}
          {share !== null && <b className={share > 1 ? "over" : styles.calm}> {Math.round(share * 100)} % of its device</b>}
        </div>
        <div className={styles.outlets}>
          {outlets.map((outlet) => (
            <div key={outlet.id}>
              {outlet.name} <span>{pluggedWords(appliances.filter((row) => row.outletId === outlet.id))}</span>
            </div>
          ))}
        </div>
      </div>
      <LimitBar seen={amps} allowed={circuit.deviceAmps} unit="A" size="stack" limitWord="device" />
    </div>
  );
}

function pluggedWords(appliances: readonly Appliance[]): string {
  return appliances.length === 0 ? "empty" : appliances.map((row) => row.category ?? row.tag).join(", ");
}

function UnitAppliances({ view, unit, appliances }: { view: SiteView; unit: UnitCell; appliances: readonly Appliance[] }) {
  if (appliances.length === 0) return <p className="soft">No appliance is registered in this unit.</p>;
  const outlets = new Map(view.outlets.map((outlet) => [outlet.id, outlet]));
  const left = unit.appliances - Math.min(mostShown, appliances.length);
  return (
    <PlainSection
      head="Appliances in it"
      aside={<Link href={`/appliances?unit=${unit.id}`}>{left > 0 ? `${left} more in this unit` : "As a list"}</Link>}
    >
      <DataTable caption={`Appliances in unit ${unit.name}`} cards>
        <TableHead columns={["Tag", "Rating plate", "Seen against allowed", "Outlet"]} />
        <tbody>
          {appliances.slice(0, mostShown).map((row) => {
            const outlet = outlets.get(row.outletId ?? "");
            return (
              <tr key={row.id}>
                <td>
                  <TagChip tag={row.tag} href={`/appliances/${row.id}`} />
                </td>
                <td className={`${cell.wide} ${styles.plate}`}>
                  <Plate size="row" plate={plateOf(row)} href={`/appliances/${row.id}`} />
                </td>
                <td className={cell.wide}>
                  <LimitBar {...seenAgainstAllowed(row)} size="stack" />
                </td>
                <td className="nw">
                  {outlet?.name ?? <span className="mute">not plugged in</span>}
                  {outlet && <span className={cell.second}>{receptacleWords(row.receptacle, outlet.receptacles)}</span>}
                </td>
              </tr>
            );
          })}
        </tbody>
      </DataTable>
    </PlainSection>
  );
}
