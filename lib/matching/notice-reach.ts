import { type MakerAliases, makerKey, makerWords } from "@/lib/identity/maker";
import { mayAgree } from "@/lib/identity/maker-key";
import { confusableKey } from "@/lib/identity/model-number";
import type { CoveredNotice } from "./covered-notice";
import { shortestPart, shortestSlipped } from "./model-keys";
import type { ModelPattern } from "./model-pattern";

/** Folded models from `from` on and before `before`, in the order of their characters. */
export interface ModelSpan {
  readonly from: string;
  readonly before: string;
}

/**
 * What a registry must be asked for so that every appliance that some notices may raise is among the answers. It may hold more, never
 * less, than the index would raise.
 */
export interface NoticeReach {
  /** Spans of the folded model that an appliance is looked up by. */
  readonly spans: readonly ModelSpan[];
  /** Folded endings of such a model. */
  readonly endings: readonly string[];
  /** A pattern has nothing literal to look up by: every appliance is in reach. */
  readonly isEverything: boolean;
  /** Whether product numbers are stated, so that every appliance that has one is in reach. */
  readonly hasGtins: boolean;
  /** Whether a maker's key may agree with a maker of a notice that lists models, which then reaches the maker's appliances without a model. */
  readonly mayBeListing: (makerKey: string) => boolean;
  /** The same for the notices without a list of models, which reach all appliances of the maker; `null` when there are none. */
  readonly mayBeUnlisted: ((makerKey: string) => boolean) | null;
}

/** Sorts after every character of a folded key, in which Z is read as 2. */
const afterAll = "Z";
/** The first of the characters. */
const first = "0";

function beginningWith(folded: string): ModelSpan {
  return { from: folded, before: folded + afterAll };
}

function equalTo(folded: string): ModelSpan {
  return { from: folded, before: folded + first };
}

/** The text with one character dropped or doubled or two neighbours swapped. */
export function slipsOf(text: string): string[] {
  const slips: string[] = [];
  for (let at = 0; at < text.length; at++) {
    const [head, own, rest] = [text.slice(0, at), text.charAt(at), text.slice(at + 1)];
    slips.push(head + rest, head + own + own + rest);
    if (rest !== "") slips.push(head + rest.charAt(0) + own + rest.slice(1));
  }
  return slips.filter((slip) => slip !== "");
}

/** A listed model reaches what begins with it and what differs by a slip; a pattern what begins with its beginning, with a slip where that is long. */
function spansOf(pattern: ModelPattern): ModelSpan[] {
  if (!pattern.isOpen) return [beginningWith(pattern.folded), ...slipsOf(pattern.folded).map(equalTo)];
  const beginning = confusableKey(pattern.beginning);
  if (beginning.length < shortestPart) return [];
  return [beginningWith(beginning), ...(beginning.length < shortestSlipped ? [] : slipsOf(beginning).map(beginningWith))];
}

function makerTest(notices: readonly CoveredNotice[], aliasKeys: readonly (readonly string[])[]): (key: string) => boolean {
  const spellings = new Map(notices.flatMap(({ coverage }) => coverage.brands.map((name) => [makerWords(name).join(" "), name])));
  const names = [...spellings.values()].map(makerWords).filter((words) => words.length > 0);
  return (key) => key !== "" && names.some((words) => mayAgree(key, words, aliasKeys));
}

/** The reach of some notices. `aliases` as the index has them. */
export function reachOf(notices: readonly CoveredNotice[], aliases: MakerAliases = []): NoticeReach {
  const listing = notices.filter(({ isListing }) => isListing);
  const unlisted = notices.filter(({ isListing }) => !isListing);
  const patterns = listing.flatMap(({ include }) => include);
  const unkeyed = patterns.filter((pattern) => spansOf(pattern).length === 0).map(({ ending }) => confusableKey(ending));
  const aliasKeys = aliases.map((group) => group.map(makerKey));
  return {
    spans: patterns.flatMap(spansOf),
    endings: unkeyed.filter(({ length }) => length >= shortestPart),
    isEverything: unkeyed.some(({ length }) => length < shortestPart),
    hasGtins: notices.some(({ gtins }) => gtins.size > 0),
    mayBeListing: makerTest(listing, aliasKeys),
    mayBeUnlisted: unlisted.length === 0 ? null : makerTest(unlisted, aliasKeys),
  };
}
