import { figure, type PlateUnit, type UnitFamily, unitAt } from "./plate-units";

/** One printed quantity: a value, a range or a list of one unit, with where it stands in the plain text. */
export interface PlateQuantity {
  readonly family: UnitFamily;
  readonly values: readonly number[];
  readonly joiner: "single" | "range" | "list";
  /** `3` of `3 x 40W`; 1 when not printed. */
  readonly count: number;
  readonly start: number;
  readonly end: number;
}

interface Element {
  readonly printed: string;
  readonly unit: PlateUnit | null;
  /** How the element hangs on the one before it; null for the first. */
  readonly joiner: "range" | "list" | null;
  readonly start: number;
  readonly end: number;
}

const numberAt = /\d+(?:[.,]\d+)*/y;
const joinerAt = /\s*(?:~\s*)?(?:(-|to|\.{2,3}|~)|([/,&]|or))\s*(?=\d)/iy;

function beginsNumber(text: string, at: number, lastEnd: number): boolean {
  if (!/\d/.test(text[at] ?? "")) return false;
  if (at === lastEnd || at === 0) return true;
  return !/[A-Za-z0-9.,]/.test(text[at - 1]!) && !/[A-Za-z0-9]-$/.test(text.slice(Math.max(0, at - 2), at));
}

/** The figures that hang together from `at` on, such as `220-240V~50/60Hz`. */
function elementsAt(text: string, at: number): Element[] {
  const elements: Element[] = [];
  let joiner: Element["joiner"] = null;
  for (let position = at; ; ) {
    numberAt.lastIndex = position;
    const printed = numberAt.exec(text)?.[0];
    if (printed === undefined) return elements;
    const unit = unitAt(text, position + printed.length);
    const end = unit?.end ?? position + printed.length;
    elements.push({ printed, unit: unit?.unit ?? null, joiner, start: position, end });
    joinerAt.lastIndex = end;
    const joined = joinerAt.exec(text);
    if (joined === null) return elements;
    joiner = joined[1] === undefined ? "list" : "range";
    position = joinerAt.lastIndex;
  }
}

/** A figure without unit takes the unit of the next one that has it: `50/60Hz`. */
function withUnits(elements: readonly Element[]): { element: Element; unit: PlateUnit }[] {
  let unit: PlateUnit | null = null;
  return elements
    .toReversed()
    .flatMap((element) => {
      unit = element.unit ?? unit;
      return unit === null ? [] : [{ element, unit }];
    })
    .reverse();
}

function countBefore(text: string, at: number): number {
  const printed = /(?:(\d{1,2})\s*x\s*|\((\d{1,2})\)\s*)(?:max(?:imum)?\.?:?\s*)?$/i.exec(text.slice(Math.max(0, at - 16), at));
  return Number(printed?.[1] ?? printed?.[2] ?? 1);
}

function countAfter(text: string, at: number): number {
  return Number(/^\s*x\s*(\d{1,2})(?![\d.,]|\s*[VWA])/i.exec(text.slice(at, at + 8))?.[1] ?? 1);
}

function quantitiesOf(text: string, elements: readonly Element[]): PlateQuantity[] {
  const found: { family: UnitFamily; values: number[]; joiner: PlateQuantity["joiner"]; start: number; end: number }[] = [];
  for (const { element, unit } of withUnits(elements)) {
    const value = figure(element.printed, unit);
    const last = found[found.length - 1];
    if (last !== undefined && last.family === unit.family && element.joiner !== null) {
      last.values.push(value);
      last.joiner = element.joiner;
      last.end = element.end;
    } else found.push({ family: unit.family, values: [value], joiner: "single", start: element.start, end: element.end });
  }
  return found.map((quantity) => ({ ...quantity, count: Math.max(countBefore(text, quantity.start), countAfter(text, quantity.end)) }));
}

/** Highest figures that a plug-in appliance's plate can mean; anything above is a misread code. Own choice. */
const plausible: Readonly<Record<UnitFamily, number>> = { V: 700, Hz: 440, W: 60_000, VA: 60_000, A: 250, ignored: 0 };

function isPlausible(quantity: PlateQuantity): boolean {
  return quantity.family !== "ignored" && quantity.values.every((value) => value > 0 && value <= plausible[quantity.family]);
}

/** Every printed quantity of a plain plate text, in order. Figures without unit, codes and implausible values are passed over. */
export function plateQuantities(text: string): PlateQuantity[] {
  const found: PlateQuantity[] = [];
  let lastEnd = -1;
  for (let at = 0; at < text.length; at++) {
    if (!beginsNumber(text, at, lastEnd)) continue;
    const elements = elementsAt(text, at);
    found.push(...quantitiesOf(text, elements).filter(isPlausible));
    lastEnd = elements[elements.length - 1]?.end ?? at + 1;
    at = lastEnd - 1;
  }
  return found;
}
