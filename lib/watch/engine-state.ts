import type { EngineTables } from "./engine-tables";
import type { RowNames } from "./row-order";
import { carryList, carryNamed, type StateCarrier } from "./state-carrier";

/** Carries everything the log told that stands in tables, by the names of outlets, circuits, receptacles and tags. */
export class EngineState {
  constructor(private readonly tables: EngineTables) {}

  carry(state: StateCarrier, latestMs: number): void {
    const { outlets, circuits, sites } = this.tables;
    const outletNumbers = Array.from(outlets.plans, ({ outlet }, number) => [outlet, number] as const);
    const found = outletNumbers.filter(([name, outlet]) => this.tables.outletNumber(name) === outlet);
    const carriers = <Key>(numbers: Iterable<readonly [string, Key]>, carry: (part: StateCarrier, key: Key) => void) =>
      new Map(Array.from(numbers, ([name, key]) => [name, { carry: (part: StateCarrier) => carry(part, key) }] as const));
    carryNamed(
      state,
      carriers(found, (part, outlet) => this.carryOutlet(part, outlet)),
    );
    const circuitNumbers = Array.from({ length: circuits.count }, (_, circuit) => [circuits.key(circuit), circuit] as const);
    carryNamed(
      state,
      carriers(circuitNumbers, (part, circuit) => circuits.carry(circuit, part)),
    );
    carryNamed(state, new Map(sites.map((site) => [site.name, site])));
    this.carryAppliances(state, latestMs);
  }

  private carryOutlet(state: StateCarrier, outlet: number): void {
    const { outlets, receptacles, loads, line, draws } = this.tables;
    outlets.carry(outlet, state);
    loads.excess.carry(outlet, state);
    line.carry(outlet, state);
    carryList(state, receptacles.allOf(outlet), (known) => {
      const receptacle = this.receptacle(state, known ?? -1, outlet);
      receptacles.carry(receptacle, state, (tag) => this.tables.appliances.carryTag(state, tag));
      draws.excess.carry(receptacle, state);
    });
  }

  /** A receptacle of an outlet by its name. */
  private receptacle(state: StateCarrier, receptacle: number, outlet: number): number {
    const { receptacles } = this.tables;
    const name = state.text(receptacle < 0 ? "" : receptacles.nameOf(receptacle)) ?? "";
    return state.isReading ? receptacles.named(outlet, name) : receptacle;
  }

  private carryAppliances(state: StateCarrier, latestMs: number): void {
    const { appliances, plugs } = this.tables;
    const registered = appliances.count;
    const numbers = Array.from({ length: registered }, (_, appliance) => appliance);
    if (state.isReading)
      for (const appliance of numbers) if (appliances.receptacle[appliance]! >= 0) plugs.takeOut(appliances.receptacle[appliance]!);
    const untagged = numbers.filter((appliance) => appliances.screened[appliance]!.tag === "");
    const kept = carryList(state, numbers, (known) => {
      const tag = state.text(known === null ? "" : appliances.screened[known]!.tag) ?? "";
      const order = state.number(known === null ? 0 : untagged.indexOf(known));
      const appliance = known ?? (tag === "" ? (untagged[order] ?? -1) : appliances.findOrAdd(tag));
      state.part(appliance < 0 ? null : (part) => this.carryAppliance(part, appliance, latestMs));
      return appliance;
    });
    if (!state.isReading) return;
    const known = new Set(kept);
    for (const appliance of numbers) if (!known.has(appliance)) this.plugNew(appliance, latestMs);
  }

  /** An appliance that joined since is where it is recorded to be, unless something is known to be plugged in there. */
  private plugNew(appliance: number, latestMs: number): void {
    const { appliances, receptacles, plugs } = this.tables;
    const screened = appliances.screened[appliance]!;
    const outlet = this.tables.recordedOutlet(screened);
    if (outlet < 0 || receptacles.appliance[receptacles.of(outlet, screened.receptacle)]! >= 0) return;
    plugs.plugRecorded(appliance, outlet, latestMs);
  }

  private carryAppliance(state: StateCarrier, appliance: number, latestMs: number): void {
    const { appliances, draws, plugs } = this.tables;
    const screened = appliances.screened[appliance]!;
    const recorded = [state.text(screened.outlet), state.text(screened.receptacle)];
    const at = this.place(state, appliances.receptacle[appliance]!);
    appliances.lastReceptacle[appliance] = this.place(state, appliances.lastReceptacle[appliance]!);
    for (const column of [appliances.firstMs, appliances.lastMs]) column[appliance] = state.number(column[appliance]!);
    draws.drift.carry(appliance, state);
    if (!state.isReading) return;
    const outlet = this.tables.recordedOutlet(screened);
    const isMoved = recorded[0] !== screened.outlet || recorded[1] !== screened.receptacle;
    if (isMoved && outlet >= 0) plugs.plugRecorded(appliance, outlet, latestMs);
    else if (at >= 0) plugs.putBack(at, appliance);
  }

  /** A receptacle by its outlet's and its own name; -1 for none and for one that is gone. */
  private place(state: StateCarrier, receptacle: number): number {
    const { outlets, receptacles } = this.tables;
    const isKnown = receptacle >= 0;
    const name = state.text(isKnown ? outlets.plans[receptacles.outlet[receptacle]!]!.outlet : null);
    if (name === null) return -1;
    const outlet = this.tables.outletNumber(name);
    const own = state.text(isKnown ? receptacles.nameOf(receptacle) : "") ?? "";
    if (!state.isReading) return receptacle;
    return outlet < 0 ? -1 : receptacles.named(outlet, own);
  }

  /** Carries what the numbers of rows that wait stand for. */
  rowNames(state: StateCarrier): RowNames {
    const { outlets, appliances } = this.tables;
    return {
      receptacle: (receptacle) => this.place(state, state.isReading ? -1 : receptacle),
      tag: (tag) => appliances.carryTag(state, tag),
      outlet: (outlet) => {
        const name = state.text(state.isReading ? null : outlets.plans[outlet]!.outlet);
        return name === null ? -1 : this.tables.outletNumber(name);
      },
    };
  }
}
