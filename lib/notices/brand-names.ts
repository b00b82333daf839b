/** Legal forms and what else follows the name proper of a firm. */
const legalForm =
  /(?:,?\s+|,)(?:Inc(?:orporated)?|L\.?L\.?C|Ltd|Limited|Corp(?:oration)?|Co(?:mpany)?|GmbH|AG|S\.?A|AB|B\.?V|N\.?V|L\.?P|LLP|PLC|PLLC|PTE|Pty|S\.?p\.?A|S\.?r\.?l|K\.?K|A\/S|Oy|KG|de C\.?V)\b\.?/gi;
const trailing =
  /\s+(?:USA|U\.S\.A?\.?|US|America|American|of America|North America|International|Group|Holdings?|Industries|Products?|Manufacturing|Mfg\.?|Enterprises|Brands|Consumer Products|Electronics|Home Appliances?|Housewares|Technologies|Technology|Trading|Direct|Store|Operating|Outdoors?|Companies|Distribution)$/i;

/** `Larkfield Housewares Co. Ltd., of Denver, Colo.` -> `Larkfield Housewares`: place, legal form and "doing business as" dropped. */
export function firmName(text: string): string {
  const trading = /\b(?:d\/?b\/?a|doing business as|aka)\b[:\s]+([^,;()]+)/i.exec(text)?.[1];
  const name = (trading ?? text)
    .replace(/^["“]|["”]$/g, "")
    .replace(/[®™©]/g, "")
    .replace(/\s*\([^)]*\)/g, "")
    .replace(/,?\s+(?:of|de|in)\s+[A-Z].*$/, "")
    .replace(/,\s+(?:a|an|the)\s+.*$/i, "");
  return name
    .replace(legalForm, "")
    .replace(/[\s,.;]+$/, "")
    .trim();
}

/** `Larkfield USA` -> `Larkfield`: what a firm adds to its name for a country or a line of business. */
export function shortFirmName(name: string): string {
  let short = firmName(name);
  for (let cut = short.replace(trailing, ""); cut !== short && cut.length > 1; cut = short.replace(trailing, "")) short = cut;
  return short;
}

/** Equal but for case, marks and spaces. */
export function sameName(one: string, other: string): boolean {
  return nameKey(one) === nameKey(other);
}

export function nameKey(name: string): string {
  return name
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, "");
}
