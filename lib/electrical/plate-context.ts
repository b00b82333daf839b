import type { PlateQuantity } from "./plate-quantities";
import type { UnitFamily } from "./plate-units";

/** What the words around a quantity say it is. `fuse`, `other` (battery, standby, starting) are not the appliance's input. */
export type QuantityRole = "plain" | "motor" | "heater" | "lamp" | "fuse" | "other";

export interface PlacedQuantity extends PlateQuantity {
  readonly section: "input" | "output" | "none";
  readonly role: QuantityRole;
  readonly max: "before" | "after" | null;
  /** A level of several, such as HIGH and LOW. */
  readonly level: boolean;
  /** Joined to the quantity before it by `+`. */
  readonly plus: boolean;
}

const roles: readonly (readonly [RegExp, QuantityRole])[] = [
  [/\b(?:fuse[ds]?|breaker|mocp|mop)\b/i, "fuse"],
  [/\b(?:battery|standby|stand-by|surge|inrush|peak|starting|locked rotor|lra|mca|ampacity|test)\b/i, "other"],
  [/\b(?:motors?|fan|blower|pump|drum)\b/i, "motor"],
  [/\b(?:heaters?|heating element|element|heat|defrost)\b/i, "heater"],
  [/\b(?:lamps?|bulbs?|light)\b/i, "lamp"],
];

/** Below this a voltage is a low-voltage output or a battery, when the plate also names a mains voltage. Own choice. */
const lowestMainsVolts = 90;

const sectionWords =
  /\b(?:(INPUT|PRIMARY|PRI|EINGANG|ENTR[E\u00c9]E|ENTRADA|I\/P|IN(?=\s*:))|(OUTPUT|SECONDARY|SEC|AUSGANG|SORTIE|SALIDA|O\/P|OUT(?=\s*:)))\b|(\u8f93\u5165)|(\u8f93\u51fa)/gi;

interface SectionWord {
  readonly section: "input" | "output";
  readonly start: number;
  readonly end: number;
}

/** `900W (OUTPUT)`: the words in brackets speak of the quantity before them. */
const bracketed = /^\s*\(\s*(INPUT|OUTPUT)\s*\)/i;

function sectionsOf(text: string): SectionWord[] {
  const bare = text.replace(/\(\s*(?:INPUT|OUTPUT)\s*\)/gi, (words) => " ".repeat(words.length));
  return [...bare.matchAll(sectionWords)].map((found) => ({
    section: found[1] !== undefined || found[3] !== undefined ? "input" : "output",
    start: found.index,
    end: found.index + found[0].length,
  }));
}

/** `1550W INPUT 1000W OUTPUT`: the words follow their quantities when none follows the last word. */
function wordsFollow(sections: readonly SectionWord[], quantities: readonly PlateQuantity[]): boolean {
  const last = sections[sections.length - 1];
  return last !== undefined && !quantities.some((quantity) => quantity.start >= last.end);
}

function bracketedSection(after: string): "input" | "output" | null {
  const word = bracketed.exec(after)?.[1]?.toLowerCase();
  return word === "input" || word === "output" ? word : null;
}

function sectionOf(quantity: PlateQuantity, sections: readonly SectionWord[], follow: boolean): PlacedQuantity["section"] {
  if (follow) {
    const next = sections.find((word) => word.start >= quantity.end);
    return next?.section ?? "none";
  }
  return sections.findLast((word) => word.end <= quantity.start)?.section ?? "none";
}

interface Around {
  readonly family: UnitFamily;
  readonly before: string;
  readonly after: string;
  /** Family of the next quantity; null after the last. */
  readonly next: UnitFamily | null;
}

/** Words that name only currents and voltages never name a power: `13A FUSE 2200W`. */
const currentOnly = /\b(?:fuse[ds]?|breaker|battery)\b/gi;

/** The words before a quantity name it; words after it only when a separator or the end closes them, or for `13A FUSE`. */
function roleOf({ family, before, after, next }: Around): QuantityRole {
  const own = (words: string) => (family === "A" || family === "V" ? words : words.replace(currentOnly, ""));
  const prior = roles.find(([pattern]) => pattern.test(own(before)));
  if (prior) return prior[1];
  if (family === "A" && next !== "A" && /^\s*fuse\b/i.test(after)) return "fuse";
  const closed = next === null ? /^[\s(]*([A-Za-z][A-Za-z -]*?)\s*(?:[+,|)]|$)/ : /^[\s(]*([A-Za-z][A-Za-z -]*?)\s*[+,|)]/;
  const word = closed.exec(after)?.[1] ?? "";
  return roles.find(([pattern]) => pattern.test(own(word)))?.[1] ?? "plain";
}

function maxOf(before: string, after: string): PlacedQuantity["max"] {
  if (/\bmax(?:imum|i)?\b\.?[:\s]*(?:\d+\s*x\s*)?$/i.test(before)) return "before";
  return /^[\s~.)]*max(?:imum)?\b/i.test(after) ? "after" : null;
}

/** The text between the previous quantity and this one, after its last separator. */
function wordsBefore(text: string, from: number, to: number): string {
  const gap = text.slice(Math.max(from, to - 40), to);
  return gap.slice(gap.lastIndexOf("|") + 1);
}

/**
 * A mains voltage inside the OUTPUT words, when no other is printed, ends them: `OUTPUT 1000W 120V 60Hz`. A frequency is
 * always the supply's.
 */
function settleOutputs(placed: readonly PlacedQuantity[]): PlacedQuantity[] {
  const inputHasVolts = placed.some((quantity) => quantity.family === "V" && quantity.section !== "output");
  let ended = false;
  return placed.map((quantity) => {
    if (quantity.section !== "output") {
      ended = false;
      return quantity;
    }
    ended ||= quantity.family === "V" && !inputHasVolts && Math.min(...quantity.values) >= lowestMainsVolts;
    return ended || quantity.family === "Hz" ? { ...quantity, section: "none" as const } : quantity;
  });
}

/** `5V 2A` beside `100-240V`: a low voltage and the current after it are an output even without the word. */
function settleLowVolts(placed: readonly PlacedQuantity[]): PlacedQuantity[] {
  const isLow = (quantity: PlacedQuantity | undefined) => quantity?.family === "V" && Math.max(...quantity.values) < 60;
  const mains = placed.some((quantity) => quantity.family === "V" && Math.max(...quantity.values) >= lowestMainsVolts);
  if (!mains) return [...placed];
  return placed.map((quantity, index) => {
    const follows = quantity.family === "A" && isLow(placed[index - 1]);
    return isLow(quantity) || follows ? { ...quantity, section: "output" as const } : quantity;
  });
}

/** The quantities with what the words around them say; outputs are marked, not removed. */
export function placeQuantities(text: string, quantities: readonly PlateQuantity[]): PlacedQuantity[] {
  const sections = sectionsOf(text);
  const follow = wordsFollow(sections, quantities);
  const placed = quantities.map((quantity, index) => {
    const previousEnd = quantities[index - 1]?.end ?? 0;
    const before = wordsBefore(text, previousEnd, quantity.start);
    const after = text.slice(quantity.end, quantities[index + 1]?.start ?? text.length);
    return {
      ...quantity,
      section: bracketedSection(after) ?? sectionOf(quantity, sections, follow),
      role: roleOf({ family: quantity.family, before, after, next: quantities[index + 1]?.family ?? null }),
      max: maxOf(before, after),
      level: /\b(?:high|low|med(?:ium)?|speed|level|eco|grill|convection|wash|spin|cool(?:ing)?)\b/i.test(before + after.slice(0, 12)),
      plus: /^[\sA-Za-z)]*\+[\s(A-Za-z]*$/.test(text.slice(previousEnd, quantity.start)) && index > 0,
    };
  });
  return settleLowVolts(settleOutputs(placed));
}
