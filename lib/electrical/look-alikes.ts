import { type PlateUnit, unitAt } from "./plate-units";

/** A figure in which letters stand for digits, such as `1OOOW`: what is printed, what it may mean. */
export interface LookAlike {
  readonly printed: string;
  readonly value: number;
  readonly unit: PlateUnit;
}

const digitOf: Readonly<Record<string, string>> = { O: "0", o: "0", Q: "0", D: "0", I: "1", l: "1", S: "5", Z: "2", B: "8" };
const mixed = /(?<![A-Za-z0-9.\-/])(?=[OoQDIlSZB]*\d)(?=\d*[OoQDIlSZB])[0-9OoQDIlSZB]{2,5}(?:[.,][0-9OoIl]{1,2})?/g;

/** Figures with letters among their digits, before a unit. They are never taken as read. */
export function lookAlikes(text: string): LookAlike[] {
  return [...text.matchAll(mixed)].flatMap((found) => {
    const after = unitAt(text, found.index + found[0].length);
    if (after === null || after.unit.family === "ignored") return [];
    const digits = found[0].replace(",", ".").replace(/[A-Za-z]/g, (letter) => digitOf[letter] ?? letter);
    const value = Number(digits) * after.unit.factor;
    return Number.isFinite(value) ? [{ printed: text.slice(found.index, after.end), value, unit: after.unit }] : [];
  });
}

/** What else the plate says, to prove a mended figure by W = V x A. */
export interface PlateAnchors {
  readonly volts: number | null;
  readonly watts: number | null;
  readonly amps: number | null;
}

/** Share within which V x A must meet W for a mended figure to be taken. Own choice, no source. */
const mendTolerance = 0.03;

/** Whether the two other figures of W = V x A prove the mended reading. */
export function isProven(alike: LookAlike, anchors: PlateAnchors): boolean {
  const volts = alike.unit.family === "V" ? alike.value : anchors.volts;
  const amps = alike.unit.family === "A" ? alike.value : anchors.amps;
  const watts = alike.unit.family === "W" ? alike.value : anchors.watts;
  if (volts === null || amps === null || watts === null) return false;
  return Math.abs(volts * amps - watts) <= mendTolerance * watts;
}
