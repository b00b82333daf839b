import { ratingCells } from "@/lib/electrical/rating-words";
import { ratingOf } from "@/lib/registry/appliance-columns";
import { stateWords } from "@/lib/registry/appliance-state";
import type { SiteAsOf } from "@/lib/registry/as-of";
import type { ApplianceThen } from "@/lib/registry/as-of-fold";
import { remember } from "@/lib/registry/remember";
import { both, type PackCell, type PackNames, type PackSection, placeColumns, tableOnly } from "./site-pack-section";

const columns = [
  both("tag", "Tag", 50, "code"),
  both("brand", "Maker", 68, "plate"),
  both("model", "Model", 62, "plate"),
  both("serial", "Serial", 55, "code"),
  both("volts", "V~", 27, "plate figure"),
  both("hertz", "Hz", 20, "plate figure"),
  both("watts", "W", 24, "plate figure"),
  both("amps", "A", 20, "plate figure"),
  ...placeColumns(88),
  both("kind", "Kind", 56),
  ...[tableOnly("date_code"), tableOnly("protection_class"), tableOnly("seen_there"), tableOnly("changed_later")],
];

const heads = { out_of_use: "Appliances out of use", in_use: "Appliances in use", retired: "Appliances retired" } as const;
type State = keyof typeof heads;

/** Many appliances of a site have the same plate. */
const cellsOf = remember(
  4_000,
  (row: ApplianceThen) =>
    JSON.stringify([
      ...[row.ratedVolts, row.ratedHertz, row.ratedWatts, row.ratedAmps, row.labelText, row.protectionClass, row.maxLampWatts],
    ]),
  (row) => ratingCells(ratingOf(row)),
);

function rowOf(names: PackNames, row: ApplianceThen): PackCell[] {
  const { volts, hertz, watts, amps } = cellsOf(row);
  const plate = [row.tag, row.brand, row.model, row.serial, volts, hertz, watts, amps];
  const more = [row.category, row.dateCode, row.protectionClass, row.isSeen ? "yes" : "no", row.isCertain ? "no" : "yes"];
  return [...plate, names.where(row), ...names.place(row), ...more];
}

function noteOf(rows: readonly ApplianceThen[]): string | null {
  const unsure = rows.filter(({ isCertain }) => !isCertain).length;
  if (unsure === 0) return null;
  return `${unsure} of them changed after this day in a way of which the record kept no before and after: their labels may be later ones. The table names them (changed_later).`;
}

/** The appliances of one state, each as its plate. */
export function applianceSection(then: SiteAsOf, names: PackNames, state: State): PackSection {
  const rows = then.appliances.filter((row) => row.state === state);
  return {
    key: `appliances_${state}`,
    head: heads[state],
    knownAsOf: "The day; names of places as they are now.",
    note: noteOf(rows),
    empty: `No appliance was ${stateWords[state]}.`,
    columns,
    rows: rows.map((row) => rowOf(names, row)),
  };
}
