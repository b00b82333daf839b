import { toGtin14 } from "@/lib/identity/gtin";
import type { LookUp } from "./appliance-reading";
import { compareProduct } from "./findings";
import { IdList } from "./id-list";
import { raisePatterns } from "./model-index";
import { type ProductName, productName } from "./product-kind";
import type { RecallIndex, StatedModels } from "./recall-index";

export interface RaiseOptions {
  /** Also raise what will be ruled out: models that differ in one character, excluded models, other products of the maker. */
  readonly neighbours: boolean;
  /** `false` leaves out the notices without any identifier. */
  readonly withoutIdentifiers: boolean;
}

/** What an appliance raised. Reused from one appliance to the next. */
export class Raised {
  /** Ids of notices, each once. */
  readonly notices = new IdList();
  /** Ids of the listed models that raised some of them. */
  readonly listed = new IdList();
  /** Ids of the excluded models that raised some of them. */
  readonly excluded = new IdList();

  clear(): void {
    this.notices.clear();
    this.listed.clear();
    this.excluded.clear();
  }
}

let question = 0;

function addOnce(index: RecallIndex, notices: IdList, id: number): void {
  if (index.asked[id] === question) return;
  index.asked[id] = question;
  notices.add(id);
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
function raiseByMaker(index: RecallIndex, { facts, models }: LookUp, options: RaiseOptions, notices: IdList): void {
  const byMaker = options.withoutIdentifiers ? index.byMaker : index.identifiedByMaker;
  const groups = models.length > 0 ? byMaker.unlisted : byMaker.all;
  if (facts.brand === null || groups.size === 0) return;
  const product = models.length > 0 || options.neighbours || facts.category === null ? null : productName(facts.category);
  const fits = product === null ? null : fitsOf(index, product);
  for (const maker of index.makers.find(facts.brand).keys()) {
    for (const id of groups.get(maker) ?? []) {
      if (product === null || fits === null || fitsProduct(index, fits, product, id) || index.isListing[id] === 0)
        addOnce(index, notices, id);
    }
  }
}

function raiseByGtin(index: RecallIndex, upc: string, notices: IdList): void {
  const gtin = toGtin14(upc);
  if (gtin !== null) for (const id of index.byGtin.get(gtin) ?? []) addOnce(index, notices, id);
}

/** The notices in which the found models stand. */
function raiseStated(index: RecallIndex, { noticeOf }: StatedModels, found: IdList, notices: IdList): void {
  for (let at = 0; at < found.count; at++) addOnce(index, notices, noticeOf[found.ids[at] as number] as number);
}

/**
 * The notices that share a key with an appliance: a model in one of its readings, its product number, or its maker where no
 * model can decide.
 */
export function raiseNotices(index: RecallIndex, lookUp: LookUp, options: RaiseOptions, raised: Raised): void {
  const { notices, listed, excluded } = raised;
  question = (question % 0x7fff_ffff) + 1;
  raised.clear();
  for (const model of lookUp.models) raisePatterns(index.listed.index, model, listed, options.neighbours);
  raiseStated(index, index.listed, listed, notices);
  if (options.neighbours) {
    for (const model of lookUp.models) raisePatterns(index.excluded.index, model, excluded, true);
    raiseStated(index, index.excluded, excluded, notices);
  }
  const { upc } = lookUp.facts;
  if (upc !== null) raiseByGtin(index, upc, notices);
  raiseByMaker(index, lookUp, options, notices);
}
