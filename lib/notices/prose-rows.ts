import type { Draft } from "./draft";

/** A list of models or of windows that a sentence has, in the text's order: where its finds stand in the draft. */
export interface ListPlace {
  readonly kind: "model" | "serial" | "dateCode";
  /** Which sentence of the passage. */
  readonly sentence: number;
  readonly from: number;
  readonly to: number;
}

/**
 * "Model QT-1 with serial numbers 100 to 250 and model QT-2 with serial numbers 300 to 450": each window belongs to the
 * models right before it. Only where a sentence begins with models and has two such pairs or more; a sentence with one
 * pair says nothing that the whole notice does not.
 */
export function tieProse(draft: Draft, lists: readonly ListPlace[], firstRow: number): void {
  let row = firstRow;
  for (const sentence of new Set(lists.map((list) => list.sentence))) {
    const groups = pairsOf(lists.filter((list) => list.sentence === sentence));
    if (groups.length < 2) continue;
    for (const group of groups) {
      for (const list of group) setRow(draft, list, row);
      row += 1;
    }
  }
}

/** Models, then windows, then models ...: the pairs; none when the sentence runs otherwise. */
function pairsOf(lists: readonly ListPlace[]): ListPlace[][] {
  const groups: ListPlace[][] = [];
  for (const list of lists) {
    const last = groups[groups.length - 1];
    const opens = list.kind === "model" && (!last || last.some((other) => other.kind !== "model"));
    if (opens) groups.push([list]);
    else if (last) last.push(list);
    else return [];
  }
  return groups.every((group) => group.some((list) => list.kind !== "model")) ? groups : [];
}

function setRow(draft: Draft, { kind, from, to }: ListPlace, row: number): void {
  for (let at = from; at < to; at++) {
    if (kind === "model") draft.models[at] = { ...(draft.models[at] as Draft["models"][number]), row };
    else {
      const windows = kind === "serial" ? draft.serials : draft.dateCodes;
      windows[at] = { ...(windows[at] as Draft["serials"][number]), row };
    }
  }
}
