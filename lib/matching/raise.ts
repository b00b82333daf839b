import { toGtin14 } from "@/lib/identity/gtin";
import type { LookUp } from "./appliance-reading";
import { compareProduct } from "./findings";
import { raisePatterns } from "./model-index";
import { type ProductName, productName } from "./product-kind";
import { listsModels, type RecallIndex } from "./recall-index";

export interface RaiseOptions {
  /** Also raise what will be ruled out: models that differ in one character, other products of the maker. */
  readonly neighbours: boolean;
  /** `false` leaves out the notices without any identifier. */
  readonly withoutIdentifiers: boolean;
}

/** What an appliance raised: ids of notices, each once, and of the model patterns that raised some of them. Reused from one appliance to the next. */
export interface Raised {
  readonly notices: number[];
  readonly patterns: number[];
}

let question = 0;

function addOnce(index: RecallIndex, notices: number[], id: number): void {
  if (index.asked[id] === question) return;
  index.asked[id] = question;
  notices.push(id);
}

/** Product names whose fits are remembered; a registry has few kinds. */
const mostProducts = 500;

/** Which notices the product fits, filled as they are looked at. */
function fitsOf(index: RecallIndex, product: ProductName): Uint8Array {
  let fits = index.productFits.get(product);
  if (!fits) {
    if (index.productFits.size >= mostProducts) index.productFits.clear();
    fits = new Uint8Array(index.notices.length);
    index.productFits.set(product, fits);
  }
  return fits;
}

/** Whether the notice's product may be this one; remembered for each pair of product and notice. */
function fitsProduct(index: RecallIndex, fits: Uint8Array, product: ProductName, id: number): boolean {
  if (fits[id] === 0) {
    const notice = index.notices[id];
    const agreement = notice ? compareProduct(product, notice) : "different";
    fits[id] = agreement === "same" || agreement === "related" ? 1 : 2;
  }
  return fits[id] === 1;
}

/** Notices of the maker: those without a list of models; where the appliance has no model also those with one, for the same product. */
function raiseByMaker(index: RecallIndex, { facts, models }: LookUp, options: RaiseOptions, notices: number[]): void {
  const byMaker = options.withoutIdentifiers ? index.byMaker : index.identifiedByMaker;
  const groups = models.length > 0 ? byMaker.unlisted : byMaker.all;
  if (facts.brand === null || groups.size === 0) return;
  const product = models.length > 0 || options.neighbours || facts.category === null ? null : productName(facts.category);
  const fits = product === null ? null : fitsOf(index, product);
  for (const maker of index.makers.find(facts.brand).keys()) {
    for (const id of groups.get(maker) ?? []) {
      if (product === null || fits === null || fitsProduct(index, fits, product, id) || !isListed(index, id)) addOnce(index, notices, id);
    }
  }
}

function isListed(index: RecallIndex, id: number): boolean {
  const notice = index.notices[id];
  return notice !== undefined && listsModels(notice);
}

/**
 * The notices that share a key with an appliance: a model in one of its readings, its product number, or its maker where no
 * model can decide.
 */
export function raiseNotices(index: RecallIndex, lookUp: LookUp, options: RaiseOptions, raised: Raised): void {
  const { notices, patterns } = raised;
  question = (question % 0x7fff_ffff) + 1;
  if (notices.length > 0) notices.length = 0;
  if (patterns.length > 0) patterns.length = 0;
  for (const model of lookUp.models) raisePatterns(index.models, model, patterns, options.neighbours);
  for (const pattern of patterns) addOnce(index, notices, index.noticeOfPattern[pattern] as number);
  const { upc } = lookUp.facts;
  if (upc !== null) {
    const gtin = toGtin14(upc);
    if (gtin !== null) for (const id of index.byGtin.get(gtin) ?? []) addOnce(index, notices, id);
  }
  raiseByMaker(index, lookUp, options, notices);
}
