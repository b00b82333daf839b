import { toGtin14 } from "@/lib/identity/gtin";
import type { LookUpFacts } from "./appliance-reading";
import { raisePatterns } from "./model-index";
import type { RecallIndex } from "./recall-index";

export interface RaiseOptions {
  /** Also raise neighbours that differ in one character, which are printed as ruled out. */
  readonly neighbours: boolean;
  /** `false` leaves out the notices without any identifier. */
  readonly withoutIdentifiers: boolean;
}

let question = 0;

function addOnce(index: RecallIndex, raised: number[], id: number): void {
  if (index.asked[id] === question) return;
  index.asked[id] = question;
  raised.push(id);
}

function raiseByMaker(index: RecallIndex, brand: string, hasModel: boolean, options: RaiseOptions, raised: number[]): void {
  const notices = options.withoutIdentifiers ? index.byMaker : index.identifiedByMaker;
  const byMaker = hasModel ? notices.unlisted : notices.all;
  if (byMaker.size === 0) return;
  for (const maker of index.makers.find(brand).keys()) {
    for (const id of byMaker.get(maker) ?? []) addOnce(index, raised, id);
  }
}

const found: number[] = [];

/**
 * The notices that share a key with an appliance: a model in one of its readings, its product number, or its maker where no
 * model can decide. Appends their ids to `raised`, each once.
 */
export function raiseNotices(index: RecallIndex, { brand, upc, models }: LookUpFacts, options: RaiseOptions, raised: number[]): void {
  question = (question % 0x7fff_ffff) + 1;
  found.length = 0;
  for (const model of models) raisePatterns(index.models, model, found, options.neighbours);
  for (const pattern of found) addOnce(index, raised, index.noticeOfPattern[pattern] as number);
  if (upc !== null) {
    const gtin = toGtin14(upc);
    if (gtin !== null) for (const id of index.byGtin.get(gtin) ?? []) addOnce(index, raised, id);
  }
  if (brand !== null) raiseByMaker(index, brand, models.length > 0, options, raised);
}
