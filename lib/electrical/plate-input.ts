import type { PlacedQuantity } from "./plate-context";
import type { AmpsAtVolts, WattsAtVolts } from "./rating";

/** The input of one unit family, and the parts that a plate gives to motor and heater. */
export interface PlateInput {
  readonly total: number | null;
  readonly motor: number | null;
  readonly heater: number | null;
  /** Different totals that the plate prints without saying why; the highest is the total. */
  readonly rivals: readonly number[];
}

function highest(quantity: PlacedQuantity): number {
  return Math.max(...quantity.values) * quantity.count;
}

function sumOf(quantities: readonly PlacedQuantity[]): number | null {
  return quantities.length === 0 ? null : quantities.reduce((sum, quantity) => sum + highest(quantity), 0);
}

function totalOf(totals: readonly PlacedQuantity[], parts: number | null): number | null {
  if (totals.length === 0) return parts;
  const joined = totals.length > 1 && totals.slice(1).every((quantity) => quantity.plus);
  return joined ? sumOf(totals) : Math.max(...totals.map(highest));
}

function rivalsOf(totals: readonly PlacedQuantity[], paired: boolean): number[] {
  const values = [...new Set(totals.map(highest))];
  const explained = paired || totals.some((quantity) => quantity.level || quantity.plus);
  return values.length > 1 && !explained ? values : [];
}

/** Quantities that state the appliance's own input: those of the INPUT words where there are any. */
export function inputQuantities(quantities: readonly PlacedQuantity[]): PlacedQuantity[] {
  return quantities.filter((quantity) => quantity.section !== "output" && quantity.role !== "fuse" && quantity.role !== "other");
}

/** The input in one family out of its quantities; `paired` when each belongs to a voltage of its own. */
export function plateInput(quantities: readonly PlacedQuantity[], paired: boolean): PlateInput {
  const named = quantities.filter((quantity) => quantity.section === "input");
  const own = named.length > 0 ? named : quantities;
  const motor = sumOf(own.filter((quantity) => quantity.role === "motor"));
  const heater = sumOf(own.filter((quantity) => quantity.role === "heater"));
  const parts = motor === null && heater === null ? null : (motor ?? 0) + (heater ?? 0);
  const totals = own.filter((quantity) => quantity.role === "plain");
  return { total: totalOf(totals, parts), motor, heater, rivals: rivalsOf(totals, paired) };
}

function zipped(volts: readonly number[], watts: readonly number[]): WattsAtVolts[] {
  return volts.map((value, index) => ({ volts: value, watts: watts[index]! }));
}

/**
 * Watts that belong to a voltage each: `220-240V 1850-2200W`, `240/208V 4500/3380W`, or alternating `120V 1500W / 240V 2000W`.
 * Empty when the plate prints no such pairs.
 */
export function wattPairs(quantities: readonly PlacedQuantity[]): WattsAtVolts[] {
  const volts = quantities.filter((quantity) => quantity.family === "V");
  const watts = quantities.filter((quantity) => quantity.family === "W" && quantity.role === "plain");
  const [oneVolts, oneWatts] = [volts[0], watts[0]];
  if (volts.length === 1 && watts.length === 1 && oneVolts && oneWatts) {
    const fits = oneVolts.values.length > 1 && oneVolts.values.length === oneWatts.values.length;
    return fits ? zipped(oneVolts.values, oneWatts.values) : [];
  }
  const order = quantities.filter((quantity) => quantity.family === "V" || quantity.family === "W");
  const alternate =
    order.length >= 4 && order.length % 2 === 0 && order.every((quantity, index) => quantity.family === (index % 2 === 0 ? "V" : "W"));
  const single = alternate && order.every((quantity) => quantity.values.length === 1);
  return single
    ? zipped(
        volts.map((quantity) => quantity.values[0]!),
        watts.map((quantity) => quantity.values[0]!),
      )
    : [];
}

/** Amps that belong to a voltage each: `115/230V 10/5A`, `100-240V 1.5A-0.8A`. Empty when the plate prints no such pairs. */
export function ampPairs(quantities: readonly PlacedQuantity[]): AmpsAtVolts[] {
  const volts = quantities.filter((quantity) => quantity.family === "V");
  const amps = quantities.filter((quantity) => quantity.family === "A" && quantity.role === "plain");
  const [oneVolts, oneAmps] = [volts[0], amps[0]];
  if (volts.length !== 1 || amps.length !== 1 || !oneVolts || !oneAmps) return [];
  const fits = oneVolts.values.length > 1 && oneVolts.values.length === oneAmps.values.length;
  return fits ? oneVolts.values.map((value, index) => ({ volts: value, amps: oneAmps.values[index]! })) : [];
}
