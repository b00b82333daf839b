import type { NeutralEpisode } from "./neutral-watch";
import type { StateCarrier } from "./state-carrier";
import type { VoltageEpisode } from "./stretch-table";
import type { Trip, TripCause } from "./trip";

/** Carries one trip; null when it is to be read back. */
export function carryTrip(state: StateCarrier, trip: Trip | null): Trip {
  return {
    atMs: state.number(trip?.atMs ?? 0),
    outlet: state.text(trip?.outlet ?? "") ?? "",
    receptacle: state.text(trip?.receptacle ?? null),
    tag: state.text(trip?.tag ?? null),
    cause: state.text(trip?.cause ?? "unknown") as TripCause,
    overLimit: state.flag(trip?.overLimit ?? false),
    followsSupply: state.flag(trip?.followsSupply ?? false),
  };
}

/** Carries one stretch of line voltage; null when it is to be read back. */
export function carryVoltageEpisode(state: StateCarrier, episode: VoltageEpisode | null): VoltageEpisode {
  return {
    kind: state.flag(episode?.kind === "high_voltage") ? "high_voltage" : "low_voltage",
    outlet: state.text(episode?.outlet ?? "") ?? "",
    fromMs: state.number(episode?.fromMs ?? 0),
    toMs: state.number(episode?.toMs ?? 0),
    peak: state.number(episode?.peak ?? 0),
    limit: state.number(episode?.limit ?? 0),
    nominal: state.number(episode?.nominal ?? 0),
    rule: state.text(episode?.rule ?? "") ?? "",
  };
}

/** Carries one lost neutral; null when it is to be read back. */
export function carryNeutralEpisode(state: StateCarrier, episode: NeutralEpisode | null): NeutralEpisode {
  return {
    fromMs: state.number(episode?.fromMs ?? 0),
    toMs: state.number(episode?.toMs ?? 0),
    peak: state.number(episode?.peak ?? 0),
    lowest: state.number(episode?.lowest ?? 0),
    outlets: state.number(episode?.outlets ?? 0),
  };
}
