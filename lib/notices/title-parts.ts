import { firmName } from "./brand-names";

/** What a headline says: the firm that recalls, and the words for the product. */
export interface TitleParts {
  readonly firms: readonly string[];
  readonly product: string;
}

const reason =
  /\s+(?:(?:due|sold|because|after|for|over|to repair|with risk|that|imported|made|manufactured|following|prompts?|leads?|por)\b(?!-|\s+use)|;|:).*$/i;

/** `Larkfield Recalls Kettles Due to Burn Hazard`, `Kettles Recalled by Larkfield Due to ...`, `CPSC, Larkfield Announce Recall of Kettles`. */
export function titleParts(title: string): TitleParts {
  const clean = title.replace(/[®™©]/g, "").replace(/\s+/g, " ").trim();
  const parts = partsOf(clean);
  const seller = /\b(?:Imported|Manufactured|Made|Distributed|Sold(?: Exclusively)? (?:on|at|through) [\w.]+) by ([^;]+)/i.exec(clean)?.[1];
  return seller === undefined ? parts : { ...parts, firms: [...parts.firms, ...firms(seller)] };
}

function partsOf(clean: string): TitleParts {
  const announced =
    /^(?:CPSC(?:,| and|And)?\s+)?(.*?)\s+Announces?\s+(?:Another |Voluntary )?(?:Recall|Recalls)?\s*(?:of|to (?:Repair|Inspect|Replace)(?: and (?:Repair|Replace))?(?: of)?|for)?\s*(.*)$/i.exec(
      clean,
    );
  if (announced) return { firms: firms(announced[1] ?? ""), product: productWords((announced[2] ?? "").replace(/\s+Recall$/i, "")) };
  const deed = /^CPSC,?\s+(?:and\s+)?(.+?)\s+(?:Settle|Agree|Warn|Offer|Renew|Urge|Provide|Remind|Reach)s?\b/i.exec(clean)?.[1];
  if (deed !== undefined && !/\b(?:Recall|Announce|Recalls)\b/i.test(deed)) return { firms: firms(deed), product: "" };
  const agreement = agreed(withoutAgency(clean));
  return agreement ?? recalled(withoutAgency(clean));
}

/** `CPSC, Larkfield Recall Kettles`, `CPSC and Larkfield ...`: without the agency. */
function withoutAgency(clean: string): string {
  return clean.replace(/^CPSC(?:,? and|,) (?=[A-Z])/i, "");
}

/** `Larkfield Corp. and CPSC Reach Agreement to Replace Parts on Some Kettles`, `CPSC Issues Correction of Kettle Numbers`. */
function agreed(clean: string): TitleParts | null {
  const joint = /^(.*?),?\s+and\s+(?:the\s+)?CPSC\s+.*?\b(?:on|of)\s+(?:(?:some|certain)\s+)?(.*)$/i.exec(clean);
  if (joint) return { firms: firms(joint[1] ?? ""), product: productWords(joint[2] ?? "") };
  const issued = /^(?:CPSC\s+)?Issues?\s+.*?\b(?:on|of)\s+(.*)$/i.exec(clean)?.[1];
  return issued === undefined ? null : { firms: [], product: productWords(issued) };
}

function recalled(clean: string): TitleParts {
  const prompted = /\b(?:Prompts?|Leads? to)\s+(?:\S+\s+(?:to\s+)?)?Recall\s+(?:of|by)\s+(.*)$/i.exec(clean);
  if (prompted)
    return /recall\s+by/i.test(prompted[0])
      ? { firms: firms(prompted[1] ?? ""), product: "" }
      : { firms: [], product: productWords(prompted[1] ?? "") };
  const passive = /^(.*?)\s+(?:Voluntarily\s+)?(?:Are\s+)?Recalled\b(?:\s+(?:for Repair\s+)?by\s+(.*))?/i.exec(clean);
  if (passive && !/\bRecalls\b/.test(clean.slice(0, passive[1]?.length ?? 0))) {
    const by = passive[2] ?? "";
    return { firms: firms(by.replace(reason, "")), product: productWords(passive[1] ?? "") };
  }
  const active =
    /^(.*?)\s+(?:Voluntarily\s+)?(Reannounces? and Expands?|Expands?|Reannounces?|Recalls?|retiran?)\s+(?:Recall of\s+)?(?:to (?:Repair|Inspect)(?: and Repair)?\s+)?(.*)$/i.exec(
      clean,
    );
  if (active)
    return {
      firms: /s$/i.test(active[2] ?? "") ? oneFirm(active[1] ?? "") : firms(active[1] ?? ""),
      product: /^retira/i.test(active[2] ?? "") ? "" : productWords(active[3] ?? ""),
    };
  return { firms: [], product: productWords(clean) };
}

/** A verb in the singular: the words before it are one firm, also where an "and" is among them. */
function oneFirm(text: string): string[] {
  const name = firmName(text);
  return name === "" || name.length > 60 ? [] : [name];
}

function firms(text: string): string[] {
  return text
    .split(/\s+and\s+(?=[A-Z])|;/)
    .map(firmName)
    .filter((name) => name !== "" && name.length < 60 && !/^(?:CPSC|Retailers|Appliance Manufacturers)$/i.test(name));
}

/** The product's words without quantities and the reason of the recall. */
function productWords(text: string): string {
  return text
    .replace(reason, "")
    .replace(/^(?:About|Over|Nearly|More Than|Approximately)\s+/i, "")
    .replace(/^(?:[\d.,]+|One|Two|Half a)\s+(?:Million\s+)?(?=[A-Z])/i, "")
    .replace(/\s+(?:(?:Repair|Recall|Modification)\s+Program(?:\s+Announced)?|Announced|Recall(?:\s+Remedy)?)$/i, "")
    .replace(/[;:,\s]+$/, "")
    .trim();
}
