import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { readAppliance } from "./appliance-reading";
import type { Grade } from "./candidate";

/** What is missing for a comparison that could say "not found". */
export type LabelGap = "no_list" | "label_unread" | "no_model" | "model_partly_read" | "no_maker";

export const labelGapWords: Readonly<Record<LabelGap, string>> = {
  no_list: "No recall list was loaded: there was nothing to compare with.",
  label_unread: "No maker, model or UPC was read: there is nothing to compare.",
  no_model: "No model was read: it was compared by its maker and kind only.",
  model_partly_read: "The model was read only in part: it was compared by its maker and kind only.",
  no_maker: "No maker was read: it was compared by its model only.",
};

/** How far an appliance could be compared: by maker and model or UPC, by one of them, or not at all. */
export type Extent = "full" | "part" | "none";

/** How far an appliance's label goes, the plate's text read where the columns are empty. */
export function extentOf(facts: ApplianceFacts): { readonly extent: Extent; readonly gaps: readonly LabelGap[] } {
  const { facts: known, models, gtin } = readAppliance(facts);
  const hasMaker = known.brand !== null;
  if (gtin !== null || (hasMaker && models.length > 0)) return { extent: "full", gaps: [] };
  if (models.length > 0) return { extent: "part", gaps: ["no_maker"] };
  if (!hasMaker) return { extent: "none", gaps: known.model?.includes("?") ? ["model_partly_read", "no_maker"] : ["label_unread"] };
  return { extent: "part", gaps: [known.model?.includes("?") ? "model_partly_read" : "no_model"] };
}

/** Where a person's latest decision leaves a pair of notice and appliance; `open` waits for one. */
export type PairStanding = "open" | "unsure" | "affected" | "not_affected";

export interface ProofPair {
  readonly grade: Grade;
  readonly standing: PairStanding;
  /** False for a notice that names only a maker and a kind. */
  readonly hasIdentifiers: boolean;
}

/** What can be said of one appliance and the loaded lists, what is worst first. */
export type ProofOutcome = "affected" | "open" | "unsure" | "not_checked" | "unanswered" | "in_part" | "cleared" | "not_found";

export const proofOutcomes: readonly ProofOutcome[] = [
  ...(["affected", "open", "unsure", "not_checked", "unanswered", "in_part", "cleared", "not_found"] as const),
];

export const proofOutcomeWords: Readonly<Record<ProofOutcome, string>> = {
  affected: "covered by a notice",
  open: "a notice may cover it, not decided",
  unsure: "nobody could settle it",
  not_checked: "could not be checked",
  unanswered: "only a person can tell",
  in_part: "checked in part, not found",
  cleared: "found not affected by a person",
  not_found: "not found on the lists",
};

/** What each outcome means, in one sentence. */
export const proofOutcomeSentences: Readonly<Record<ProofOutcome, string>> = {
  affected: "A person confirmed that a notice covers it.",
  open: "What is known fits a notice, and nobody has decided yet: treat it as covered.",
  unsure: "A person looked and could not settle it: treat it as covered.",
  not_checked: "Too little of its label was read for any comparison, or no list was loaded.",
  unanswered: "A notice names its maker and kind and nothing else, and nobody has answered for it.",
  in_part: "Nothing was found by what was read, but not all that a comparison needs was read.",
  cleared: "A notice named it, and a person decided, with a reason, that it is not affected.",
  not_found: "Compared by maker and model, or by UPC: on none of the lists loaded, or a fact such as its date rules the notice out.",
};

/** What the pairs and the label of one appliance come to. A pair that a fact rules out says nothing against it. */
export function outcomeOf(extent: Extent, pairs: readonly ProofPair[]): ProofOutcome {
  const isThere = (standing: PairStanding, is: (pair: ProofPair) => boolean = () => true) =>
    pairs.some((pair) => pair.standing === standing && is(pair));
  if (isThere("affected")) return "affected";
  if (isThere("open", ({ grade, hasIdentifiers }) => grade !== "not_covered" && hasIdentifiers)) return "open";
  if (isThere("unsure")) return "unsure";
  if (extent === "none") return "not_checked";
  if (isThere("open", ({ grade }) => grade !== "not_covered")) return "unanswered";
  if (extent === "part") return "in_part";
  return isThere("not_affected") ? "cleared" : "not_found";
}

/** Why a notice of the lists says less than it should. */
export type NoticeGap = "not_compared" | "no_identifiers" | "not_understood";

export const noticeGapWords: Readonly<Record<NoticeGap, string>> = {
  not_compared: "It was loaded and has not been compared with the registry yet.",
  no_identifiers: "It names no model, serial, date code or UPC: only a person can tell.",
  not_understood: "It holds what looks like an identifier and was not understood: an appliance with it would not be found by it.",
};

/** What cannot be said by a notice. */
export function noticeGaps(notice: {
  readonly hasIdentifiers: boolean;
  readonly isCompared: boolean;
  readonly hasUnread: boolean;
}): NoticeGap[] {
  return [
    ...(notice.isCompared ? [] : (["not_compared"] as const)),
    ...(notice.hasIdentifiers ? [] : (["no_identifiers"] as const)),
    ...(notice.hasUnread ? (["not_understood"] as const) : []),
  ];
}
