import type { LoadKind } from "@/lib/electrical/load-kind";

/** What an appliance draws while it starts, as a multiple of its running current, and for how long. */
export interface InrushShape {
  readonly multiple: number;
  readonly seconds: number;
  /** A peak within the first half-cycle, too short for a thermal trip. */
  readonly halfCycle: number | null;
  readonly origin: string;
}

/** The upper end of what is told of each kind, so that the sum is not made too small. */
export const inrushShapes: Readonly<Record<LoadKind, InrushShape>> = {
  heating: { multiple: 1.4, seconds: 5, halfCycle: null, origin: "resistive heater 1.0 to 1.4 times, seconds: from memory" },
  motor: {
    multiple: 8,
    seconds: 3,
    halfCycle: 20,
    origin: "induction motor up to 20 times in the first half-cycle, then 4 to 8 times while it accelerates: trade article; 3 s own choice",
  },
  small_motor: { multiple: 4, seconds: 1, halfCycle: null, origin: "own choice, no source" },
  combined: { multiple: 4, seconds: 3, halfCycle: null, origin: "a motor's start beside a heater: own choice, no source" },
  electronics: {
    multiple: 1,
    seconds: 0,
    halfCycle: 50,
    origin: "switch-mode input 20 to 50 times for less than a few milliseconds: lighting trade article",
  },
  lamp: {
    multiple: 15,
    seconds: 0.5,
    halfCycle: null,
    origin: "cold tungsten filament 10 to 15 times, settled by 0.5 s: lighting trade article",
  },
  unknown: { multiple: 8, seconds: 3, halfCycle: 20, origin: "kind not known, so taken as a motor" },
};

/** Categories whose contents spoil: they are reconnected first. Own choice, no source. */
const coldStorage = /fridge|refrigerat|freezer/;

/** Whether a category keeps food or medicine cold. */
export function keepsCold(category: string | null): boolean {
  return category !== null && coldStorage.test(category.toLowerCase());
}
