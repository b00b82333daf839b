import { maxReceptacleLoad } from "./circuit-limits";
import { type RuleSource, unnamedEdition } from "./rule-source";

/** How one plug system limits what is plugged into a receptacle. Amperes. */
export interface PlugSystem {
  readonly words: string;
  /** Most that one receptacle may feed for a short time; null where it depends on circuit and receptacle. */
  readonly amps: number | null;
  /** Advised for hours; null where no other figure than `amps` is known. */
  readonly continuousAmps: number | null;
  readonly source: RuleSource;
}

/** Plug systems by name. */
export const plugSystems = {
  "NEC 210.21(B)": {
    words: "NEMA receptacles by circuit (North America)",
    amps: null,
    continuousAmps: null,
    source: { standard: "NEC (NFPA 70)", edition: "2023 edition", clause: "Table 210.21(B)(2)", confirmed: true },
  },
  "BS 1363": {
    words: "13 A fused plug",
    amps: 13,
    continuousAmps: null,
    source: { standard: "BS 1363, fuse to BS 1362", edition: unnamedEdition, clause: "preferred ratings 3 A and 13 A", confirmed: true },
  },
  "CEE 7": {
    words: "16 A earthing-contact plug",
    amps: 16,
    continuousAmps: 10,
    source: {
      standard: "CEE 7",
      edition: unnamedEdition,
      clause: "16 A for a short time; about 10 A continuous is advised",
      confirmed: false,
    },
  },
  "AS/NZS 3112": {
    words: "10 A flat-pin plug",
    amps: 10,
    continuousAmps: null,
    source: { standard: "AS/NZS 3112", edition: unnamedEdition, clause: "10 A plug", confirmed: false },
  },
} as const satisfies Readonly<Record<string, PlugSystem>>;
export type PlugSystemName = keyof typeof plugSystems;

/** The most one cord-and-plug load may take at a receptacle, amperes; null where the system's table has no row for these ratings. */
export function receptacleLimit(
  system: PlugSystemName,
  circuitAmps: number | null,
  receptacleAmps: number | null,
): { readonly amps: number; readonly source: RuleSource } | null {
  const { amps, source } = plugSystems[system];
  if (amps !== null) return { amps: circuitAmps === null ? amps : Math.min(amps, circuitAmps), source };
  const row = circuitAmps === null || receptacleAmps === null ? null : maxReceptacleLoad(circuitAmps, receptacleAmps);
  return row === null ? null : { amps: row, source };
}

/** The plug fuse of BS 1362 that fits an input: 3 A up to 700 W, else 13 A (rule of thumb; a start may need more). Null above 13 A. */
export function plugFuseAmps(watts: number, volts: number): 3 | 13 | null {
  if (watts <= 700) return 3;
  return watts / volts <= 13 ? 13 : null;
}
