import { maxReceptacleLoad } from "@/lib/electrical/circuit-limits";
import type { CircuitLoad } from "./circuit-load";
import { Excess, type ExcessEpisode } from "./excess";
import { lasting, makeResult, short } from "./make-result";
import type { LegVoltage, NeutralWatch } from "./neutral-watch";
import type { PlannedOutlet } from "./outlet-plan";
import type { ScreeningPolicy } from "./policy";
import type { Reading } from "./reading";
import { receptacleName } from "./receptacle-name";
import { type OutletContext, ReceptacleState } from "./receptacle-state";
import type { ScreeningResult } from "./screening-result";
import type { StateCarrier } from "./state-carrier";
import { type VoltageBand, voltageBand } from "./voltage-band";
import { type VoltageEpisode, VoltageStretch } from "./voltage-stretch";
import { endOfLocalDay } from "./zone-time";

export interface OutletSurroundings {
  readonly policy: ScreeningPolicy;
  readonly nominalVolts: number | null;
  readonly report: (result: ScreeningResult) => void;
  readonly reportVoltage: (episode: VoltageEpisode) => void;
}

/** Takes what was kept of a voltage that is judged no more. */
function spareStretch(): VoltageStretch {
  return new VoltageStretch(1, 0, 0, () => {});
}

/** One outlet: its receptacles added up against its rating, and the line voltage seen at it. */
export class OutletState implements OutletContext {
  readonly nominalVolts: number | null;
  readonly band: VoltageBand | null;
  circuit: CircuitLoad | null = null;
  neutral: NeutralWatch | null = null;
  leg: LegVoltage | null = null;
  /** The held current of all receptacles together. */
  amps = 0;
  readAtMs = Number.NEGATIVE_INFINITY;
  /** Newest row taken, judged or not. */
  newestMs = Number.NEGATIVE_INFINITY;
  behindMs = Number.NEGATIVE_INFINITY;
  firstMs = Number.POSITIVE_INFINITY;
  lastMs = Number.NEGATIVE_INFINITY;
  voltsAtMs = Number.NEGATIVE_INFINITY;
  dipAtMs = Number.NEGATIVE_INFINITY;
  /** True once its rows ran behind the rest of the log: it is judged by itself, without circuit and legs. */
  apart = false;
  readonly receptacles: ReceptacleState[] = [];
  private readonly byName = new Map<string, ReceptacleState>();
  private readonly excess: Excess;
  private readonly high: VoltageStretch | null;
  private readonly low: VoltageStretch | null;
  private readonly holdMs: number;
  private readonly outletAmps: number;

  constructor(
    readonly plan: PlannedOutlet,
    private readonly around: OutletSurroundings,
  ) {
    const { policy, nominalVolts } = around;
    this.nominalVolts = nominalVolts;
    this.band = nominalVolts === null ? null : voltageBand(nominalVolts, policy);
    this.holdMs = policy.holdSeconds * 1000;
    this.outletAmps = plan.outletAmps ?? Number.POSITIVE_INFINITY;
    this.excess = new Excess(policy, (episode) => this.reportOverload(episode));
    this.high = this.stretch("high_voltage", policy);
    this.low = this.stretch("low_voltage", policy);
  }

  private stretch(kind: VoltageEpisode["kind"], policy: ScreeningPolicy): VoltageStretch | null {
    const { band } = this;
    if (band === null) return null;
    const isHigh = kind === "high_voltage";
    const limit = isHigh ? band.high : band.low;
    return new VoltageStretch(isHigh ? 1 : -1, policy.holdSeconds * 1000, band.lastingMs, (fromMs, toMs, peak) =>
      this.around.reportVoltage({ kind, outlet: this.plan.outlet, fromMs, toMs, peak, limit, nominal: band.nominal, rule: band.rule }),
    );
  }

  /** The receptacle of a row; without a name the only one, or the outlet as a whole. */
  receptacle(text: string | null): ReceptacleState {
    return this.named(receptacleName(text) ?? (this.plan.receptacles === 1 ? "1" : ""));
  }

  /** The receptacle of a canonical name; empty for the outlet as a whole. */
  named(name: string): ReceptacleState {
    const known = this.byName.get(name);
    if (known) return known;
    const made = new ReceptacleState(this, name, this.around.policy, this.around.report);
    this.byName.set(name, made);
    this.receptacles.push(made);
    return made;
  }

  /** Adds up what the receptacles hold at `atMs` and judges it; a row of the whole outlet counts where it is more. */
  addUp(atMs: number): void {
    let sum = 0;
    let whole = 0;
    for (const receptacle of this.receptacles) {
      if (atMs - receptacle.readAtMs > this.holdMs) continue;
      if (receptacle.name === "") whole = receptacle.amps;
      else sum += receptacle.amps;
    }
    const before = atMs - this.readAtMs <= this.holdMs ? this.amps : 0;
    this.amps = Math.max(sum, whole);
    this.readAtMs = atMs;
    if (this.amps > this.outletAmps || !this.excess.isIdle) this.excess.observe(atMs, this.amps, this.outletAmps);
    else this.excess.quiet(atMs, this.amps);
    if (this.circuit !== null && !this.apart) this.circuit.observe(atMs, this.amps - before);
  }

  /** Amps of a row: as measured, else watts / (volts x power factor), with factor 1 where unknown. NaN when nothing tells. */
  ampsOf(reading: Reading): number {
    if (reading.amps !== null) return reading.amps;
    const volts = reading.volts ?? this.nominalVolts;
    if (reading.watts === null || volts === null || volts <= 0) return Number.NaN;
    const factor = reading.powerFactor;
    return reading.watts / (volts * (factor !== null && factor > 0 ? factor : 1));
  }

  /** Judges the line voltage of a row. */
  watchVolts(atMs: number, volts: number): void {
    this.voltsAtMs = atMs;
    const { band, high, low } = this;
    if (band === null || high === null || low === null) return;
    if (volts < band.dip) this.dipAtMs = atMs;
    if (volts > band.high) high.beyond(atMs, volts);
    else if (high.isOpen) high.inside(atMs);
    if (volts < band.low && volts >= band.interrupted) low.beyond(atMs, volts);
    else if (low.isOpen) low.inside(atMs);
    if (this.neutral !== null && this.leg !== null && !this.apart && volts >= band.interrupted * 0.5)
      this.neutral.observe(this.leg, atMs, volts);
  }

  /** Whether the outlet or what is plugged in there is above a limit at this moment. */
  isAbove(receptacle: ReceptacleState): boolean {
    return receptacle.excess.isAbove || this.excess.isAbove;
  }

  private reportOverload(episode: ExcessEpisode): void {
    const { site, circuit, outlet } = this.plan;
    const measure = { fromMs: episode.fromMs, toMs: episode.toMs, value: episode.peak, limit: episode.limit, unit: "A" as const };
    const drawing = this.receptacles.filter((receptacle) => receptacle.name !== "").length;
    this.around.report(
      makeResult("outlet_overload", { site, circuit, outlet }, measure, [
        `${drawing > 1 ? `${drawing} receptacles together` : "The outlet"} carried up to ${short(episode.peak)} A, above the outlet's ${short(episode.limit)} A for ${lasting(episode.toMs - episode.fromMs)}.`,
        "Limit: the rating of the outlet (NEC 210.21(B)).",
        ...this.oneItemWords(),
        "Unplug something here, and feel for a warm plug; a warm outlet needs a qualified electrician.",
      ]),
    );
  }

  /** What a single cord-and-plug load may take at this outlet, where the table has its row. */
  private oneItemWords(): string[] {
    const { deviceAmps, outletAmps } = this.plan;
    const most = deviceAmps === null || outletAmps === null || !this.band?.northAmerican ? null : maxReceptacleLoad(deviceAmps, outletAmps);
    return most === null
      ? []
      : [
          `One cord-and-plug load may take ${most} A at a ${outletAmps} A receptacle of a ${deviceAmps} A circuit (NEC Table 210.21(B)(2)).`,
        ];
  }

  /** Carries what the log told of this outlet and its receptacles, in the order in which they were first seen. */
  carry(state: StateCarrier): void {
    this.amps = state.number(this.amps);
    this.readAtMs = state.number(this.readAtMs);
    this.newestMs = state.number(this.newestMs);
    this.behindMs = state.number(this.behindMs);
    this.firstMs = state.number(this.firstMs);
    this.lastMs = state.number(this.lastMs);
    this.voltsAtMs = state.number(this.voltsAtMs);
    this.dipAtMs = state.number(this.dipAtMs);
    this.apart = state.flag(this.apart);
    this.excess.carry(state);
    for (const stretch of [this.high, this.low]) (stretch ?? spareStretch()).carry(state);
    const leg = this.leg ?? { volts: 0, readAtMs: 0, counted: false };
    leg.volts = state.number(leg.volts);
    leg.readAtMs = state.number(leg.readAtMs);
    leg.counted = state.flag(leg.counted);
    const count = state.number(this.receptacles.length);
    for (let at = 0; at < count; at++) this.named(state.text(this.receptacles[at]?.name ?? "") ?? "").carry(state);
  }

  close(atMs: number): void {
    this.excess.close(atMs);
    this.high?.close(atMs);
    this.low?.close(atMs);
    for (const receptacle of this.receptacles) receptacle.close(atMs);
  }

  readonly endOfDay = (atMs: number): number => endOfLocalDay(this.plan.timeZone, atMs);
}
