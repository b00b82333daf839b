import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { type ApplianceReading, lookUpOf, readingOf } from "./appliance-reading";
import { askOf } from "./ask";
import type { Candidate, Grade } from "./candidate";
import type { CoveredNotice } from "./covered-notice";
import { type Compared, compareFields, compareModels } from "./findings";
import { type Graded, grade, type Verdict } from "./grade";
import type { AgreeingMakers } from "./maker-index";
import { type ModelAgreement, rejectingLevels } from "./model-agreement";
import type { ModelPattern } from "./model-pattern";
import { Raised, raiseNotices } from "./raise";
import { reasonsOf, scoreOf } from "./reasons";
import { listsModels, type RecallIndex } from "./recall-index";

export interface CrossCheckOptions {
  /** Also return the pairs that the index raised and the comparison ruled out. */
  readonly all?: boolean;
  /** Also return the pairs that a fact other than the model rules out, such as a serial number outside its window. */
  readonly ruledOut?: boolean;
  /** `false` leaves out the notices that name no model, serial number, date code or product number, which are answered for a maker's product at once. */
  readonly withoutIdentifiers?: boolean;
}

interface GradedPair {
  readonly graded: Graded;
  readonly verdict: Verdict;
}

/** The makers that notices name and that agree with the appliance's; `null` when that is not known. */
function makersOf(index: RecallIndex, { facts }: ApplianceReading): AgreeingMakers | null {
  return facts.brand === null ? null : index.makers.find(facts.brand);
}

function gradePair(index: RecallIndex, compared: Compared): GradedPair {
  const { appliance, notice } = compared;
  const graded: Graded = { findings: compareFields(compared, index.settings), appliance, notice, settings: index.settings };
  return { graded, verdict: grade(graded) };
}

function explain({ graded, verdict }: GradedPair): Candidate {
  const reasons = reasonsOf(graded);
  return {
    applianceId: graded.appliance.facts.id,
    noticeKey: graded.notice.key,
    grade: verdict.grade,
    score: scoreOf(reasons),
    reasons,
    ask: askOf(graded, verdict),
  };
}

/** Compares one appliance with one notice, whether or not an index would raise the pair. */
export function comparePair(index: RecallIndex, appliance: ApplianceReading, notice: CoveredNotice): Candidate {
  const model = compareModels(appliance, notice, index.settings);
  return explain(gradePair(index, { appliance, notice, makers: makersOf(index, appliance), model }));
}

/** Whether the models alone rule the pair out, so that the rest need not be compared. */
function isPlainlyOther(appliance: ApplianceReading, notice: CoveredNotice, model: ModelAgreement | null): boolean {
  if (appliance.models.length === 0 || !listsModels(notice) || (appliance.gtin !== null && notice.gtins.has(appliance.gtin))) return false;
  return model === null || rejectingLevels.has(model.level);
}

const raised = new Raised();

/** The models of a notice that the appliance raised. */
function raisedModels({ listed }: RecallIndex, noticeId: number): ModelPattern[] {
  const models: ModelPattern[] = [];
  const { ids, count } = raised.listed;
  for (let at = 0; at < count; at++) {
    const id = ids[at] as number;
    if (listed.noticeOf[id] === noticeId) models.push(listed.patterns[id] as ModelPattern);
  }
  return models;
}

/** Grades the raised pairs; `take` gets those that are not ruled out, or all when asked. */
function eachPair(index: RecallIndex, facts: ApplianceFacts, options: CrossCheckOptions, take: (pair: GradedPair) => void): void {
  const all = options.all === true;
  const lookUp = lookUpOf(facts);
  raiseNotices(index, lookUp, { neighbours: all, withoutIdentifiers: options.withoutIdentifiers !== false }, raised);
  const { ids, count } = raised.notices;
  if (count === 0) return;
  const appliance = readingOf(lookUp);
  for (let at = 0; at < count; at++) {
    const id = ids[at] as number;
    const notice = index.notices[id] as CoveredNotice;
    const model = compareModels(appliance, notice, index.settings, all ? notice.include : raisedModels(index, id));
    if (!all && isPlainlyOther(appliance, notice, model)) continue;
    const pair = gradePair(index, { appliance, notice, makers: makersOf(index, appliance), model });
    if (all || options.ruledOut || pair.verdict.grade !== "not_covered") take(pair);
  }
}

const gradeOrder = { covered: 0, likely: 1, check_label: 2, not_covered: 3 } as const;

/** Candidates in a fixed order: by grade, then score, then the notice's key. */
function compareCandidates(left: Candidate, right: Candidate): number {
  if (left.grade !== right.grade) return gradeOrder[left.grade] - gradeOrder[right.grade];
  if (left.score !== right.score) return right.score - left.score;
  return left.noticeKey < right.noticeKey ? -1 : left.noticeKey > right.noticeKey ? 1 : 0;
}

/** Compares an appliance with every notice that may concern it. The result depends on nothing but the facts and the list. */
export function crossCheck(index: RecallIndex, appliance: ApplianceFacts, options: CrossCheckOptions = {}): Candidate[] {
  const candidates: Candidate[] = [];
  eachPair(index, appliance, options, (pair) => candidates.push(explain(pair)));
  return candidates.length > 1 ? candidates.sort(compareCandidates) : candidates;
}

/** The grades alone, without reasons and questions: what a run over a whole registry needs to tell which pairs it must explain. */
export function gradeAppliance(
  index: RecallIndex,
  appliance: ApplianceFacts,
  options: CrossCheckOptions,
  take: (noticeKey: string, grade: Grade) => void,
): void {
  eachPair(index, appliance, options, ({ graded, verdict }) => take(graded.notice.key, verdict.grade));
}
