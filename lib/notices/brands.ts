import { statedBrands } from "./brand-cues";
import { firmName, nameKey, shortFirmName } from "./brand-names";
import type { Notice } from "./notice";
import type { Passage } from "./passage";
import { leadingName } from "./product-phrase";
import { titleParts } from "./title-parts";

/**
 * What a consumer would read on the product. In this order: brand fields; brands that the text names as such; the name
 * that the product's words begin with, where title, product names or makers know it; the firm itself.
 */
export function brandsOf(notice: Notice, description: Passage): string[] {
  if (notice.statedBrands.length > 0) return distinct(notice.statedBrands);
  const title = titleParts(notice.title);
  const sources = [notice.title, ...notice.productNames, ...notice.makers, ...notice.importers, ...notice.distributors];
  const stated = statedBrands(description.clean, sources);
  if (stated.length > 0) return distinct(stated);
  const firms = [
    ...title.firms,
    ...notice.makers.map(firmName),
    ...notice.importers.map(firmName),
    ...notice.distributors.map(firmName),
  ].filter((name) => name !== "");
  const lead = leadingName(description.clean, [title.product, ...notice.productNames, ...notice.makers], firms);
  if (lead.length > 0) return distinct(lead);
  const firm = firms[0];
  return firm === undefined ? [] : [shortFirmName(firm)];
}

function distinct(names: readonly string[]): string[] {
  const seen = new Set<string>();
  return names.filter((name) => {
    const key = nameKey(name);
    if (key === "" || seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
