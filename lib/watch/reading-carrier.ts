import type { OutletEvent, Reading } from "./reading";
import type { StateCarrier } from "./state-carrier";

const nothing: Reading = {
  atMs: 0,
  outlet: "",
  receptacle: null,
  tag: null,
  watts: null,
  amps: null,
  volts: null,
  powerFactor: null,
  event: null,
  cause: null,
};

/** Carries one row of a log; null when it is to be read back. */
export function carryReading(state: StateCarrier, reading: Reading | null): Reading {
  const row = reading ?? nothing;
  return {
    atMs: state.number(row.atMs),
    outlet: state.text(row.outlet) ?? "",
    receptacle: state.text(row.receptacle),
    tag: state.text(row.tag),
    watts: state.maybe(row.watts),
    amps: state.maybe(row.amps),
    volts: state.maybe(row.volts),
    powerFactor: state.maybe(row.powerFactor),
    event: state.text(row.event) as OutletEvent | null,
    cause: state.text(row.cause),
  };
}
