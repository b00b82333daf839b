import type { ApplianceFacts } from "./appliance-facts";

/** The facts of an appliance that a comparison looks at, without whose they are. */
export type ComparedFacts = Omit<ApplianceFacts, "id">;

/** The compared facts in the order in which a label is read. */
export const comparedFactNames = [
  "brand",
  "model",
  "serial",
  "dateCode",
  "made",
  "category",
  "upc",
  "labelText",
] as const satisfies readonly (keyof ComparedFacts)[];

export interface FactChange {
  readonly name: keyof ComparedFacts;
  /** `null` when it was, or is, not read. */
  readonly before: string | null;
  readonly after: string | null;
}

/** The compared facts alone, of anything that carries them. */
export function comparedFacts(given: ComparedFacts): ComparedFacts {
  const { brand, model, serial, dateCode, made, category, upc, labelText } = given;
  return { brand, model, serial, dateCode, made, category, upc, labelText };
}

/** Which facts of an appliance read otherwise than before. */
export function factChanges(before: ComparedFacts, after: ComparedFacts): FactChange[] {
  return comparedFactNames.flatMap((name) => (before[name] === after[name] ? [] : [{ name, before: before[name], after: after[name] }]));
}
