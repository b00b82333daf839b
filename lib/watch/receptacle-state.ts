import { type ApplianceLimit, applianceLimit, referred } from "./appliance-limit";
import { DriftWatch } from "./drift-watch";
import { Excess, type ExcessEpisode } from "./excess";
import { lasting, makeResult, short } from "./make-result";
import type { PlannedOutlet } from "./outlet-plan";
import type { ScreeningPolicy } from "./policy";
import type { Reading } from "./reading";
import { carryReading } from "./reading-carrier";
import type { ScreenedAppliance } from "./screened-appliance";
import type { ScreeningResult } from "./screening-result";
import type { StateCarrier } from "./state-carrier";

/** What a receptacle knows of its outlet. */
export interface OutletContext {
  readonly plan: PlannedOutlet;
  /** Null when neither the plan nor its site tells. */
  readonly nominalVolts: number | null;
  readonly endOfDay: (atMs: number) => number;
}

/** One appliance of the registry while the log is judged: where it is now, its drift, and when it was seen. */
export class ApplianceState {
  receptacle: ReceptacleState | null = null;
  drift: DriftWatch | null = null;
  driftUnit: "W" | "A" = "W";
  /** Where it was last judged, so that a drift names a place. */
  lastReceptacle: ReceptacleState | null = null;
  firstMs = Number.POSITIVE_INFINITY;
  lastMs = Number.NEGATIVE_INFINITY;

  constructor(readonly screened: ScreenedAppliance) {}
}

/** One plug position: what is plugged in, what it draws, and whether that is too much. Constant memory. */
export class ReceptacleState {
  appliance: ApplianceState | null = null;
  private limit: ApplianceLimit | null = null;
  /** The held current, and when it was read. */
  amps = 0;
  readAtMs = Number.NEGATIVE_INFINITY;
  lastAtMs = Number.NEGATIVE_INFINITY;
  lastReading: Reading | null = null;
  tagSeen: string | null = null;
  tagSeenMs = Number.NEGATIVE_INFINITY;
  private unit: "W" | "A" = "W";
  readonly excess: Excess;

  constructor(
    readonly outlet: OutletContext,
    /** Empty for rows that name no receptacle of an outlet with several. */
    readonly name: string,
    private readonly policy: ScreeningPolicy,
    private readonly report: (result: ScreeningResult) => void,
  ) {
    this.excess = new Excess(policy, (episode) => this.reportExcess(episode));
  }

  /** Plugs an appliance in here, out of where it was. */
  plug(appliance: ApplianceState | null, atMs: number): void {
    if (this.appliance === appliance) return;
    this.unplug(atMs);
    if (appliance === null) return;
    appliance.receptacle?.leave(atMs);
    appliance.receptacle = this;
    appliance.lastReceptacle = this;
    this.appliance = appliance;
    this.limit = applianceLimit(appliance.screened, this.outlet.nominalVolts);
  }

  /** Puts an appliance back where it was when the state was kept. */
  putBack(appliance: ApplianceState): void {
    appliance.receptacle = this;
    this.appliance = appliance;
    this.limit = applianceLimit(appliance.screened, this.outlet.nominalVolts);
  }

  /** Forgets what the plan has here, before the kept state says what is here. */
  takeOut(): void {
    if (this.appliance !== null) this.appliance.receptacle = null;
    this.appliance = null;
    this.limit = null;
  }

  /** The appliance was seen elsewhere, so its tag is no longer the last one here. */
  private leave(atMs: number): void {
    this.unplug(atMs);
    this.tagSeen = null;
    this.tagSeenMs = Number.POSITIVE_INFINITY;
  }

  /** Whether neither a tag nor a row was ever seen here. */
  get isUntouched(): boolean {
    return this.tagSeenMs === Number.NEGATIVE_INFINITY && this.lastAtMs === Number.NEGATIVE_INFINITY;
  }

  unplug(atMs: number): void {
    if (this.appliance === null) return;
    this.excess.close(atMs);
    this.appliance.receptacle = null;
    this.appliance = null;
    this.limit = null;
  }

  /** The draw ends: switched off, tripped or unplugged. */
  drawEnds(atMs: number): void {
    this.excess.end(atMs);
    this.excess.quiet(atMs, 0);
    this.amps = 0;
    this.readAtMs = atMs;
  }

  /** Judges what the appliance draws by its own limit, and adds it to its drift. */
  judge(reading: Reading): void {
    const { appliance, limit } = this;
    if (appliance === null || limit === null) return;
    if (reading.atMs > appliance.lastMs) appliance.lastMs = reading.atMs;
    if (appliance.firstMs === Number.POSITIVE_INFINITY) appliance.firstMs = reading.atMs;
    const { watts } = reading;
    const byWatts = watts !== null && !limit.byCurrent;
    const draw = byWatts ? watts : this.otherDraw(reading, limit);
    if (Number.isNaN(draw)) return;
    const unit = byWatts ? "W" : this.unit;
    this.unit = unit;
    const value = limit.exponent === 0 ? draw : referred(limit, draw, reading.volts, unit);
    const bound = unit === "W" ? limit.watts : limit.amps;
    if (value > bound || !this.excess.isIdle) this.excess.observe(reading.atMs, value, bound);
    else this.excess.quiet(reading.atMs, value);
    this.drift(appliance, limit, reading.atMs, value);
  }

  /** The draw where watts do not decide or are missing; sets the unit. NaN when the row cannot be judged. */
  private otherDraw(reading: Reading, limit: ApplianceLimit): number {
    const volts = reading.volts ?? this.outlet.nominalVolts;
    const factor = reading.powerFactor;
    if (limit.amps < Number.POSITIVE_INFINITY) {
      this.unit = "A";
      if (reading.amps !== null) return reading.amps;
      return reading.watts !== null && volts !== null && volts > 0
        ? reading.watts / (volts * (factor !== null && factor > 0 ? factor : 1))
        : Number.NaN;
    }
    this.unit = "W";
    if (reading.watts !== null) return reading.watts;
    return reading.amps !== null && volts !== null && factor !== null ? reading.amps * volts * factor : Number.NaN;
  }

  private drift(appliance: ApplianceState, limit: ApplianceLimit, atMs: number, value: number): void {
    if (appliance.drift === null) this.startDrift(appliance, limit);
    const { drift } = appliance;
    if (drift === null || value < drift.running || appliance.driftUnit !== this.unit) return;
    drift.observe(atMs, value, this.outlet.endOfDay);
  }

  private startDrift(appliance: ApplianceState, limit: ApplianceLimit): void {
    const watts = this.unit === "W";
    const rated = watts
      ? (limit.ratedWatts ?? (limit.watts < Number.POSITIVE_INFINITY ? limit.watts : 0))
      : limit.amps < Number.POSITIVE_INFINITY
        ? limit.amps
        : 0;
    if (rated === 0) return;
    const least = watts ? this.policy.runningWatts : this.policy.runningWatts / (this.outlet.nominalVolts ?? 120);
    const running = Math.max(least, this.policy.runningShare * rated);
    appliance.driftUnit = this.unit;
    this.makeDrift(appliance, running, watts ? limit.watts : limit.amps);
  }

  private makeDrift(appliance: ApplianceState, running: number, highest: number): DriftWatch {
    appliance.drift = new DriftWatch(running, highest, this.policy, (episode) => {
      const place = appliance.lastReceptacle ?? this;
      const unit = appliance.driftUnit;
      const share = Math.round((episode.peak / episode.baseline - 1) * 1000) / 10;
      const measure = {
        fromMs: episode.fromMs,
        toMs: episode.toMs,
        value: episode.peak,
        limit: episode.baseline * (1 + this.policy.driftShare),
        unit,
      };
      this.report(
        makeResult("drift", place.place(appliance), measure, [
          `Its daily median running draw reached ${short(episode.peak)} ${unit}, ${share} % above its own baseline of ${short(episode.baseline)} ${unit}, on ${episode.days} days with readings in a row, still below its rating.`,
          "Clean filters and vents, and look for a dragging motor or a scaled element; an inspection tells.",
        ]),
      );
    });
    return appliance.drift;
  }

  private place(appliance: ApplianceState | null) {
    const { site, circuit, outlet } = this.outlet.plan;
    return { site, circuit, outlet, receptacle: this.name === "" ? null : this.name, tag: appliance?.screened.tag ?? null };
  }

  private reportExcess(episode: ExcessEpisode): void {
    const { limit, appliance, unit } = this;
    if (limit === null || appliance === null) return;
    const kind = limit.lamp ? "lamp_too_strong" : "over_rating";
    const measure = { fromMs: episode.fromMs, toMs: episode.toMs, value: episode.peak, limit: episode.limit, unit };
    const referredWords = limit.exponent === 0 ? [] : [`Referred to ${short(limit.ratedVolts)} V where the line voltage was measured.`];
    this.report(
      makeResult(kind, this.place(appliance), measure, [
        `Drew up to ${short(episode.peak)} ${unit}, above ${short(episode.limit)} ${unit} for ${lasting(episode.toMs - episode.fromMs)}.`,
        `Limit: ${limit.rule}`,
        ...referredWords,
        ...appliance.screened.rating.contradictions.map((sentence) => `On its plate: ${sentence}`),
        limit.lamp
          ? "Fit a lamp within the fixture's marking."
          : "Stop using it and unplug it if that is safe, until it has been looked at.",
      ]),
    );
  }

  /** Carries what the log told of this receptacle; what is plugged in is carried by the one who knows the appliances. */
  carry(state: StateCarrier): void {
    this.amps = state.number(this.amps);
    this.readAtMs = state.number(this.readAtMs);
    this.lastAtMs = state.number(this.lastAtMs);
    this.lastReading = state.flag(this.lastReading !== null) ? carryReading(state, this.lastReading) : null;
    this.tagSeen = state.text(this.tagSeen);
    this.tagSeenMs = state.number(this.tagSeenMs);
    this.unit = state.flag(this.unit === "A") ? "A" : "W";
    this.excess.carry(state);
  }

  /** Carries the drift of an appliance that was judged here last. */
  carryDrift(appliance: ApplianceState, state: StateCarrier): void {
    appliance.driftUnit = state.flag(appliance.driftUnit === "A") ? "A" : "W";
    if (!state.flag(appliance.drift !== null)) return;
    const running = state.number(appliance.drift?.running ?? 0);
    const highest = state.number(appliance.drift?.highest ?? 0);
    (appliance.drift ?? this.makeDrift(appliance, running, highest)).carry(state);
  }

  /** Ends everything that is open at the end of the log. */
  close(atMs: number): void {
    this.excess.close(atMs);
  }
}
