import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { toGtin14 } from "@/lib/identity/gtin";
import { modelTexts } from "./appliance-reading";
import { raisePatterns } from "./model-index";
import { hasIdentifiers, type RecallIndex } from "./recall-index";

export interface RaiseOptions {
  /** Also raise neighbours that differ in one character, which are printed as ruled out. */
  readonly neighbours: boolean;
  /** `false` leaves out the notices without any identifier. */
  readonly withoutIdentifiers: boolean;
}

function addOnce(ids: number[], id: number): void {
  if (!ids.includes(id)) ids.push(id);
}

function raiseByMaker(index: RecallIndex, brand: string, hasModel: boolean, options: RaiseOptions, raised: number[]): void {
  const unlisted = options.withoutIdentifiers ? index.unlistedByMaker : index.identifiedByMaker;
  const byMaker = hasModel ? unlisted : index.allByMaker;
  if (byMaker.size === 0) return;
  for (const maker of index.makers.find(brand).keys()) {
    for (const id of byMaker.get(maker) ?? []) {
      const notice = index.notices[id];
      if (notice && (options.withoutIdentifiers || hasIdentifiers(notice))) addOnce(raised, id);
    }
  }
}

const found: number[] = [];

/**
 * The notices that share a key with an appliance: a model in one of its readings, its product number, or its maker where no
 * model can decide. Appends their ids to `raised`, each once. `facts` as `fillFromPlate` gives them.
 */
export function raiseNotices(index: RecallIndex, facts: ApplianceFacts, options: RaiseOptions, raised: number[]): void {
  const models = modelTexts(facts);
  found.length = 0;
  for (const model of models) raisePatterns(index.models, model, found, options.neighbours);
  for (const pattern of found) addOnce(raised, index.noticeOfPattern[pattern] as number);
  if (facts.upc !== null) {
    const gtin = toGtin14(facts.upc);
    if (gtin !== null) for (const id of index.byGtin.get(gtin) ?? []) addOnce(raised, id);
  }
  if (facts.brand !== null) raiseByMaker(index, facts.brand, models.length > 0, options, raised);
}
