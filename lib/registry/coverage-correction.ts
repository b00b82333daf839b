import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type CrossCheckAccount, checkAgain } from "@/lib/matching/cross-check.run";
import { type Correction, findQuoted, type Quoted } from "@/lib/notices/correction";
import type { Coverage } from "@/lib/notices/coverage";
import { type Statement, statementKey, statementNames, statementsOf, statementWords } from "@/lib/notices/statement";
import type { Db, Store } from "@/lib/store/client";
import {
  findCorrections,
  insertCorrection,
  type StoredCorrection,
  withdrawStoredCorrection,
} from "@/lib/store/coverage-correction-queries";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { findNotice, replaceCoverages } from "@/lib/store/notice-queries";
import { appendRecord, holdRecord } from "@/lib/store/record";
import { noticeContent } from "./notice-row";

/** What a person asks for: a statement more, one of the reading's less, or a passage that says nothing to compare. */
export type WantedCorrection =
  | { readonly act: "add"; readonly statement: Statement; readonly passage: Quoted | null }
  | { readonly act: "remove"; readonly statementKey: string }
  | { readonly act: "dismiss"; readonly passage: Quoted };

export interface CorrectionInput {
  readonly noticeId: string;
  readonly wanted: WantedCorrection;
  readonly reason: string;
  /** The wording the person had before them; a newer one refuses the correction. */
  readonly noticeHash?: string;
  /** The id it will have, made with the form: sent again, the form corrects nothing more. */
  readonly formId?: string | undefined;
  readonly now: Date;
}

type StoredNotice = NonNullable<Awaited<ReturnType<typeof findNotice>>>;

const longestReason = 2000;
const mostCorrections = 500;

function checkedReason(reason: string): string {
  const said = reason.trim();
  const sentence =
    said === ""
      ? "Say how you know it: a correction is kept with its reason."
      : said.length > longestReason
        ? `Shorten the reason to ${longestReason} characters.`
        : null;
  if (sentence) throw new Trouble("not_valid", sentence, { reason: sentence });
  return said;
}

async function getNoticeToCorrect(tx: Db, actor: Actor, noticeId: string): Promise<StoredNotice> {
  await holdRecord(tx, actor.organisationId);
  const notice = await findNotice(tx, actor.organisationId, noticeId);
  if (!notice) throw new Trouble("not_found", "There is no such notice; go back to the list of recalls.");
  return notice;
}

function refuse(sentence: string, field = "text"): never {
  throw new Trouble("not_valid", sentence, { [field]: sentence });
}

function checkAddition({ statement, passage }: WantedCorrection & { act: "add" }, notice: StoredNotice): Correction {
  const words = `${statementNames[statement.kind]}: ${statementWords(statement)}`;
  const key = statementKey(statement);
  if (statementsOf(notice.coverage).some((one) => statementKey(one) === key)) refuse(`“${words}” is in the coverage already.`);
  if (statementsOf(notice.reading).some((one) => statementKey(one) === key))
    refuse(`“${words}” was read and taken out by a person: withdraw that correction instead of adding it again.`);
  if (statement.kind === "model" && notice.coverage.models.stated === "all")
    refuse("The notice is read as covering all models, so one more changes nothing: take “all models” out first if it lists them.");
  if (passage !== null && findQuoted(notice.body, passage) === null)
    refuse("These words are not in the notice: choose the passage again.", "passage");
  return { act: "add", statement, passage };
}

/** The correction that is wanted, checked against what the notice is taken to cover now. */
function toCorrection(wanted: WantedCorrection, notice: StoredNotice): Correction {
  if (wanted.act === "add") return checkAddition(wanted, notice);
  if (wanted.act === "dismiss") {
    if (findQuoted(notice.body, wanted.passage) === null) refuse("These words are not in the notice: choose the passage again.", "passage");
    return { act: "dismiss", statement: null, passage: wanted.passage };
  }
  const statement = statementsOf(notice.reading).find((one) => statementKey(one) === wanted.statementKey);
  if (!statement)
    refuse(
      "The reading has no such statement any more: look at the notice again. What a person added is withdrawn, not taken out.",
      "statementKey",
    );
  return { act: "remove", statement, passage: null };
}

function keyOf(correction: Correction): string {
  if (correction.act !== "dismiss") return statementKey(correction.statement);
  const { field, index, quote } = correction.passage;
  return `${field}:${index ?? 0}:${quote}`;
}

/** What the record keeps of a coverage: its statements as they are said, without the spans. */
function said(coverage: Coverage): string[] {
  return statementsOf(coverage).map((one) => `${statementNames[one.kind]}: ${statementWords(one)}`);
}

interface Storing {
  readonly tx: Db;
  readonly actor: Actor;
  readonly notice: StoredNotice;
  readonly what: string;
  readonly detail: object;
  readonly now: Date;
}

/** Applies the standing corrections over the reading and writes coverage and record, marking the notice to be compared again. */
async function storeCorrected({ tx, actor, notice, what, detail, now }: Storing): Promise<void> {
  const { organisationId } = actor;
  const corrections = (await findCorrections(tx, organisationId, notice.id)).map(({ correction }) => correction);
  const content = noticeContent(notice.body, notice.reading, corrections);
  await replaceCoverages(tx, [{ id: notice.id, content }]);
  await appendRecord(tx, [
    {
      organisationId,
      at: now,
      actor: recordName(actor),
      what,
      subjectKind: "notice",
      subjectId: notice.id,
      before: { covers: said(notice.coverage) },
      after: { ...detail, number: notice.number, noticeHash: notice.contentHash, covers: said(content.coverage) },
    },
  ]);
}

function compareNotice(db: Store, actor: Actor, noticeId: string, now: Date): Promise<CrossCheckAccount> {
  return checkAgain(db, actor, { now, only: { noticeIds: [noticeId] }, because: "What the notice covers was corrected." });
}

/**
 * Corrects what a notice is taken to cover. The correction is kept with who, when and why, is applied over every later reading until it
 * is withdrawn, and the notice is compared with the registry again at once. Refuses what is there already, what is not, and an amended
 * wording. Permission: `correct coverage`.
 */
export async function correctCoverage(
  db: Store,
  actor: Actor,
  input: CorrectionInput,
): Promise<{ id: string; compared: CrossCheckAccount }> {
  requirePermission(actor, "correct coverage");
  const reason = checkedReason(input.reason);
  const { noticeId, formId, now } = input;
  const id = formId ?? newId();
  await db.$transaction(async (tx) => {
    const notice = await getNoticeToCorrect(tx, actor, noticeId);
    if (await wasMade(tx, "correction", { id: formId, organisationId: actor.organisationId })) return;
    if (input.noticeHash !== undefined && input.noticeHash !== notice.contentHash)
      throw new Trouble("changed_meanwhile", "The notice was amended while you looked at it; read the new wording and correct it then.");
    const correction = toCorrection(input.wanted, notice);
    const key = keyOf(correction);
    const standing = await findCorrections(tx, actor.organisationId, noticeId);
    if (standing.some((one) => one.act === correction.act && one.statementKey === key)) refuse("This correction stands already.");
    if (standing.length >= mostCorrections) refuse(`A notice takes at most ${mostCorrections} corrections: withdraw some first.`);
    const { organisationId, userId } = actor;
    const row = {
      id,
      organisationId,
      noticeId,
      correction,
      statementKey: key,
      reason,
      noticeHash: notice.contentHash,
      byUserId: userId,
      at: now,
    };
    await insertCorrection(tx, row);
    await storeCorrected({
      tx,
      actor,
      notice,
      what: "corrected a notice's coverage",
      detail: { correctionId: id, ...correction, reason },
      now,
    });
  });
  return { id, compared: await compareNotice(db, actor, noticeId, now) };
}

function getStanding(corrections: readonly StoredCorrection[], id: string): StoredCorrection {
  const found = corrections.find((one) => one.id === id);
  if (!found) throw new Trouble("not_found", "This correction does not stand any more: somebody withdrew it. Look at the notice again.");
  return found;
}

/** Withdraws a correction; it is kept with who and why, and the notice is compared again at once. Permission: `correct coverage`. */
export async function withdrawCorrection(
  db: Store,
  actor: Actor,
  input: { readonly noticeId: string; readonly correctionId: string; readonly reason: string; readonly now: Date },
): Promise<{ compared: CrossCheckAccount }> {
  requirePermission(actor, "correct coverage");
  const reason = checkedReason(input.reason);
  const { noticeId, correctionId, now } = input;
  await db.$transaction(async (tx) => {
    const notice = await getNoticeToCorrect(tx, actor, noticeId);
    const { correction } = getStanding(await findCorrections(tx, actor.organisationId, noticeId), correctionId);
    await withdrawStoredCorrection(tx, correctionId, { userId: actor.userId, at: now, why: reason });
    const detail = { correctionId, withdrawn: correction, reason };
    await storeCorrected({ tx, actor, notice, what: "withdrew a correction of a notice's coverage", detail, now });
  });
  return { compared: await compareNotice(db, actor, noticeId, now) };
}
