import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { toGtin14 } from "@/lib/identity/gtin";
import type { LookUp } from "./appliance-reading";
import { type FirstLook, firstLook, productBeside } from "./first-look";
import { IdList } from "./id-list";
import { KeyScan } from "./model-keys";
import { raisePatterns, raiseScanned } from "./model-lookup";
import type { RecallIndex, StatedModels } from "./recall-index";

export interface RaiseOptions {
  /** Also raise what will be ruled out: models that differ in one character, excluded models, other products of the maker. */
  readonly neighbours: boolean;
  /** `false` leaves out the notices without any identifier. */
  readonly withoutIdentifiers: boolean;
}

/** What an appliance raised. Reused from one appliance to the next. */
export class Raised {
  /** The model of an appliance with a plain one. */
  readonly scan = new KeyScan();
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

interface Asked {
  readonly facts: ApplianceFacts;
  readonly hasModel: boolean;
}

/** Notices of the maker: those without a list of models; where the appliance has no model also those with one, for the same product. */
function raiseByMaker(index: RecallIndex, { facts, hasModel }: Asked, options: RaiseOptions, notices: IdList): void {
  const byMaker = options.withoutIdentifiers ? index.byMaker : index.identifiedByMaker;
  const groups = hasModel ? byMaker.unlisted : byMaker.all;
  if (facts.brand === null || groups.size === 0) return;
  const look = firstLook(index, facts);
  const isByProduct = !hasModel && !options.neighbours && look.category !== null;
  for (const maker of look.found?.ids ?? []) {
    for (const id of groups.get(maker) ?? [])
      if (!isByProduct || index.isListing[id] === 0 || fitsProduct(index, look, id)) addOnce(index, notices, id);
  }
}

function fitsProduct(index: RecallIndex, look: FirstLook, id: number): boolean {
  const agreement = productBeside(index, look, id);
  return agreement === "same" || agreement === "related";
}

function raiseByGtin(index: RecallIndex, upc: string, notices: IdList): void {
  const gtin = toGtin14(upc);
  if (gtin !== null) for (const id of index.byGtin.get(gtin) ?? []) addOnce(index, notices, id);
}

/** The notices in which the found models stand. */
function raiseStated(index: RecallIndex, { noticeOf }: StatedModels, found: IdList, notices: IdList): void {
  for (let at = 0; at < found.count; at++) addOnce(index, notices, noticeOf[found.ids[at] as number] as number);
}

/** Without the models: by the product number, and by the maker where no model can decide. */
function raiseByOthers(index: RecallIndex, facts: ApplianceFacts, hasModel: boolean, options: RaiseOptions, notices: IdList): void {
  if (facts.upc !== null) raiseByGtin(index, facts.upc, notices);
  raiseByMaker(index, { facts, hasModel }, options, notices);
}

/** From here on every notice is new once. */
function beginAsking(): void {
  question = (question % 0x7fff_ffff) + 1;
}

/**
 * The notices that share a key with an appliance: a model in one of its readings, its product number, or its maker where no
 * model can decide.
 */
export function raiseNotices(index: RecallIndex, lookUp: LookUp, options: RaiseOptions, raised: Raised): void {
  const { notices, listed, excluded } = raised;
  const { facts, models } = lookUp;
  raised.clear();
  beginAsking();
  for (const model of models) raisePatterns(index.listed.index, model, listed, options.neighbours);
  raiseStated(index, index.listed, listed, notices);
  if (options.neighbours) {
    for (const model of models) raisePatterns(index.excluded.index, model, excluded, true);
    raiseStated(index, index.excluded, excluded, notices);
  }
  raiseByOthers(index, facts, models.length > 0, options, notices);
}

/** The same for an appliance whose only model `raised.scan` holds, without neighbours. */
export function raiseScannedNotices(index: RecallIndex, facts: ApplianceFacts, withoutIdentifiers: boolean, raised: Raised): void {
  const { scan, listed, notices } = raised;
  listed.clear();
  notices.clear();
  raiseScanned(index.listed.index, scan, listed, false);
  const { unlisted } = withoutIdentifiers ? index.byMaker : index.identifiedByMaker;
  if (listed.count === 0 && facts.upc === null && unlisted.size === 0) return;
  beginAsking();
  raiseStated(index, index.listed, listed, notices);
  raiseByOthers(index, facts, true, { neighbours: false, withoutIdentifiers }, notices);
}
