import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { type BrandAgreement, bestMaker, compareProduct, withoutMakers } from "./findings";
import type { AgreeingMakers } from "./maker-index";
import { type ProductAgreement, type ProductName, productName } from "./product-kind";
import type { RecallIndex } from "./recall-index";

/** Product names whose agreements are remembered; a registry has few kinds. */
const mostProducts = 500;
const agreements: readonly ProductAgreement[] = ["unknown", "same", "related", "different"];

/** How a product agrees with each notice's, filled as they are looked at: 0 not looked at, else one more than its place in `agreements`. */
function agreementsOf({ productAgreements: known, notices }: RecallIndex, product: ProductName): Uint8Array {
  let row = known.get(product);
  if (!row) {
    if (known.size >= mostProducts) known.clear();
    row = new Uint8Array(notices.length);
    known.set(product, row);
  }
  return row;
}

/** Maker and product of one appliance, to be compared with notices by their ids: what rules out most pairs, and costs least. */
export interface FirstLook {
  readonly brand: string | null;
  /** The notices' makers that agree with the appliance's. */
  readonly found: AgreeingMakers | null;
  readonly category: ProductName | null;
  /** See `agreementsOf`. */
  readonly row: Uint8Array | null;
}

/** Prepares the look; `facts` filled from the plate's text. */
export function firstLook(index: RecallIndex, { brand, category: kind }: ApplianceFacts): FirstLook {
  const category = kind === null ? null : productName(kind);
  return {
    brand,
    found: brand === null ? null : index.makers.find(brand),
    category,
    row: category === null ? null : agreementsOf(index, category),
  };
}

/** The maker beside a notice's. */
export function brandBeside(index: RecallIndex, { brand, found }: FirstLook, id: number): BrandAgreement {
  const { from, makers } = index.makerRows;
  const start = from[id] as number;
  const end = from[id + 1] as number;
  if (brand === null || found === null) return start === end ? "not_stated" : "missing";
  const best = bestMaker(found, makers, start, end);
  const notice = index.notices[id];
  return best !== "other" || notice === undefined ? best : withoutMakers(brand, notice);
}

/** The product beside a notice's; remembered for each pair of product and notice. */
export function productBeside({ notices }: RecallIndex, { category, row }: FirstLook, id: number): ProductAgreement {
  if (row === null) return "unknown";
  const known = row[id] as number;
  if (known > 0) return agreements[known - 1] as ProductAgreement;
  const notice = notices[id];
  const agreement = notice ? compareProduct(category, notice) : "unknown";
  row[id] = agreements.indexOf(agreement) + 1;
  return agreement;
}
