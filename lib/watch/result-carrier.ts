import type { ScreeningKind, ScreeningResult, SignalWord } from "./screening-result";
import { carryList, type StateCarrier } from "./state-carrier";

/** Carries one result that waits to be taken; null when it is to be read back. */
export function carryResult(state: StateCarrier, result: ScreeningResult | null): ScreeningResult {
  return {
    kind: state.text(result?.kind ?? "drift") as ScreeningKind,
    site: state.text(result?.site ?? null),
    circuit: state.text(result?.circuit ?? null),
    outlet: state.text(result?.outlet ?? null),
    receptacle: state.text(result?.receptacle ?? null),
    tag: state.text(result?.tag ?? null),
    fromMs: state.number(result?.fromMs ?? 0),
    toMs: state.number(result?.toMs ?? 0),
    value: state.number(result?.value ?? 0),
    limit: state.number(result?.limit ?? 0),
    unit: state.text(result?.unit ?? "W") as ScreeningResult["unit"],
    ratio: state.number(result?.ratio ?? 0),
    signalWord: state.text(result?.signalWord ?? "NOTICE") as SignalWord,
    reasons: carryList(state, result?.reasons ?? [], (sentence) => state.text(sentence) ?? ""),
  };
}
