import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { toGtin14 } from "@/lib/identity/gtin";
import type { MakerAgreement } from "@/lib/identity/maker";
import { type ApplianceReading, fillFromPlate, modelTexts, readAppliance } from "./appliance-reading";
import { askOf } from "./ask";
import type { Candidate } from "./candidate";
import type { CoveredNotice } from "./covered-notice";
import { compareFields, compareModels } from "./findings";
import { type Graded, grade, rejectingLevels } from "./grade";
import { raisePatterns } from "./model-index";
import { reasonsOf, scoreOf } from "./reasons";
import { hasIdentifiers, listsModels, type RecallIndex } from "./recall-index";

export interface CrossCheckOptions {
  /** Also return the pairs that the index raised and the comparison ruled out. */
  readonly all?: boolean;
  /** `false` leaves out the notices that name no model, serial number, date code or product number, which are answered for a maker's product at once. */
  readonly withoutIdentifiers?: boolean;
}

function addOnce(ids: number[], id: number): void {
  if (!ids.includes(id)) ids.push(id);
}

function raiseByMaker(index: RecallIndex, facts: ApplianceFacts, options: CrossCheckOptions, raised: number[]): void {
  if (facts.brand === null) return;
  const unlisted = options.withoutIdentifiers === false ? index.identifiedByMaker : index.unlistedByMaker;
  const byMaker = facts.model === null ? index.allByMaker : unlisted;
  if (byMaker.size === 0) return;
  for (const maker of index.makers.find(facts.brand).keys()) {
    for (const id of byMaker.get(maker) ?? []) {
      const notice = index.notices[id];
      if (notice && (options.withoutIdentifiers !== false || hasIdentifiers(notice))) addOnce(raised, id);
    }
  }
}

const found: number[] = [];

/** The notices that share a key with the appliance: a model in one of its readings, its product number, or its maker where no model can decide. */
function raiseNotices(index: RecallIndex, facts: ApplianceFacts, options: CrossCheckOptions): number[] {
  const raised: number[] = [];
  found.length = 0;
  for (const model of modelTexts(facts)) raisePatterns(index.models, model, found);
  for (const pattern of found) addOnce(raised, index.noticeOfPattern[pattern] as number);
  const gtin = facts.upc === null ? null : toGtin14(facts.upc);
  if (gtin !== null) for (const id of index.byGtin.get(gtin) ?? []) addOnce(raised, id);
  raiseByMaker(index, facts, options, raised);
  return raised;
}

/** Compares one appliance with one notice, whether or not an index would raise the pair. */
export function comparePair(index: RecallIndex, appliance: ApplianceReading, notice: CoveredNotice): Candidate {
  const { brand } = appliance.facts;
  const makers: ReadonlyMap<number, MakerAgreement> | null = brand === null ? null : index.makers.find(brand);
  const { settings } = index;
  const graded: Graded = { findings: compareFields({ appliance, notice, makers, settings }), appliance, notice, settings };
  const verdict = grade(graded);
  const reasons = reasonsOf(graded);
  return {
    applianceId: appliance.facts.id,
    noticeKey: notice.key,
    grade: verdict.grade,
    score: scoreOf(reasons),
    reasons,
    ask: askOf(graded, verdict),
  };
}

/** The levels that rule a listed model out by themselves, so that the rest need not be compared. */
function isPlainlyOther(index: RecallIndex, appliance: ApplianceReading, notice: CoveredNotice): boolean {
  if (!listsModels(notice) || appliance.models.length === 0) return false;
  if (appliance.gtin !== null && notice.gtins.has(appliance.gtin)) return false;
  const level = compareModels(appliance, notice, index.settings)?.level;
  return level !== undefined && rejectingLevels.has(level);
}

const gradeOrder = { covered: 0, likely: 1, check_label: 2, not_covered: 3 } as const;

/** Candidates in a fixed order: by grade, then score, then the notice's key. */
export function compareCandidates(left: Candidate, right: Candidate): number {
  if (left.grade !== right.grade) return gradeOrder[left.grade] - gradeOrder[right.grade];
  if (left.score !== right.score) return right.score - left.score;
  return left.noticeKey < right.noticeKey ? -1 : left.noticeKey > right.noticeKey ? 1 : 0;
}

/** Compares an appliance with every notice that may concern it. The result depends on nothing but the facts and the list. */
export function crossCheck(index: RecallIndex, appliance: ApplianceFacts, options: CrossCheckOptions = {}): Candidate[] {
  const facts = fillFromPlate(appliance);
  const raised = raiseNotices(index, facts, options);
  if (raised.length === 0) return [];
  const reading = readAppliance(facts);
  const candidates: Candidate[] = [];
  for (const id of raised) {
    const notice = index.notices[id];
    if (!notice || (!options.all && isPlainlyOther(index, reading, notice))) continue;
    const candidate = comparePair(index, reading, notice);
    if (options.all || candidate.grade !== "not_covered") candidates.push(candidate);
  }
  return candidates.sort(compareCandidates);
}
