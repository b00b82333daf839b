import { type Actor, recordName } from "@/lib/access/actor";
import type { Db } from "@/lib/store/client";
import { siteDueDays } from "@/lib/store/due-days-queries";
import { addFindingNote, changeFinding, type FindingChange, findFindingByKey, insertFinding } from "@/lib/store/finding-queries";
import { appendRecord, canonicalJson } from "@/lib/store/record";
import type { Finding } from "@/lib/store/rows";
import type { SignalWord } from "@/lib/watch/screening-result";
import type { FindingCause } from "./cause";
import { type DueDays, dueAfterRaise, dueDate, dueDays } from "./due-date";
import type { FindingEvidence } from "./finding-evidence";
import { isSignalWord, isStronger, strongerWord } from "./signal-word";

/** A cause seen at a thing. `key` (see `findingKey`) names both; the rest describes it as seen now. */
export interface SeenCause {
  readonly organisationId: string;
  readonly key: string;
  readonly cause: FindingCause;
  readonly applianceId?: string | null;
  readonly noticeId?: string | null;
  readonly siteId: string;
  readonly circuitId?: string | null;
  readonly outletId?: string | null;
  readonly signalWord: SignalWord;
  readonly sentence: string;
  readonly evidence: FindingEvidence;
  /** How often the cause was seen in all, where the caller counts; otherwise each refresh counts one. */
  readonly timesSeen?: number;
  readonly now: Date;
  readonly actor: Actor;
}

export type FindingOutcome = "opened" | "refreshed" | "opened again" | "unchanged";

/**
 * Opens the finding of a cause and thing, or refreshes the one that is there: never two. The signal word may rise and then brings the
 * due date forward; it never falls by itself. The same evidence again changes nothing. A closed finding whose cause comes back with
 * other evidence is opened again. Call it inside the transaction that stores what was seen; permission is the caller's.
 */
export async function openOrRefreshFinding(tx: Db, seen: SeenCause): Promise<{ id: string; outcome: FindingOutcome }> {
  const days = (await siteDueDays(tx, seen.siteId)) ?? dueDays;
  const id = await insertFinding(tx, {
    ...seen,
    applianceId: seen.applianceId ?? null,
    noticeId: seen.noticeId ?? null,
    circuitId: seen.circuitId ?? null,
    outletId: seen.outletId ?? null,
    timesSeen: seen.timesSeen ?? 1,
    dueAt: dueDate(seen.signalWord, seen.now, days),
  });
  if (id !== null) {
    await tell(tx, seen, { id, number: 1, step: "opened", text: seen.sentence });
    return { id, outcome: "opened" };
  }
  const known = await findFindingByKey(tx, seen.organisationId, seen.key);
  if (known === null) throw new Error(`The finding ${seen.key} was neither stored nor found.`);
  return { id: known.id, outcome: await refresh(tx, known, seen, days) };
}

function storedWord(finding: Finding): SignalWord {
  return isSignalWord(finding.signalWord) ? finding.signalWord : "WARNING";
}

async function refresh(tx: Db, known: Finding, seen: SeenCause, days: DueDays): Promise<FindingOutcome> {
  const before = storedWord(known);
  const raised = isStronger(seen.signalWord, before);
  const same = canonicalJson(known.evidence) === canonicalJson(seen.evidence) && known.sentence === seen.sentence;
  if (same && !raised) return "unchanged";
  const returned = known.state === "closed";
  const word = returned ? seen.signalWord : strongerWord(seen.signalWord, before);
  const change: FindingChange = {
    signalWord: word,
    sentence: seen.sentence,
    evidence: seen.evidence,
    refreshedAt: seen.now,
    timesSeen: seen.timesSeen ?? known.timesSeen + 1,
    ...(raised && !returned ? { dueAt: dueAfterRaise(word, known.dueAt, seen.now, days) } : {}),
    ...(returned ? openedAgain(dueDate(word, seen.now, days)) : {}),
  };
  // The row is held by this transaction on the embedded database; on a server another writer may have been quicker, so it is read again.
  if (!(await changeFinding(tx, known.id, known.version, change))) return refreshLatest(tx, seen, days);
  const line = { id: known.id, number: known.version + 1, change: { known, change } };
  if (returned)
    await tell(tx, seen, {
      ...line,
      step: "opened_again",
      text: `The cause came back after the finding was closed as ${known.outcome ?? "settled"}. ${seen.sentence}`,
    });
  else if (raised) await tell(tx, seen, { ...line, step: "raised", text: `Raised from ${before} to ${word}. ${seen.sentence}` });
  return returned ? "opened again" : "refreshed";
}

async function refreshLatest(tx: Db, seen: SeenCause, days: DueDays): Promise<FindingOutcome> {
  const latest = await findFindingByKey(tx, seen.organisationId, seen.key);
  if (latest === null) throw new Error(`The finding ${seen.key} disappeared while it was refreshed.`);
  return refresh(tx, latest, seen, days);
}

function openedAgain(dueAt: Date): FindingChange {
  return {
    state: "open",
    dueAt,
    remedyStage: null,
    closedAt: null,
    outcome: null,
    outcomeReason: null,
    outcomeEvidence: null,
    reviewAt: null,
  };
}

type Told = Pick<SeenCause, "organisationId" | "key" | "signalWord" | "sentence" | "now" | "actor">;

interface ToldLine {
  readonly id: string;
  readonly number: number;
  readonly step: string;
  readonly text: string;
  /** What the line changed, so that the record leads back to how it was. */
  readonly change?: { readonly known: Finding; readonly change: FindingChange };
}

const toldFields = ["signalWord", "sentence", "state", "dueAt", "closedAt", "outcome", "outcomeReason", "remedyStage"] as const;

/** The fields that a change touches, as they were and as they are. */
function beforeAndAfter({ known, change }: NonNullable<ToldLine["change"]>): { before: object; after: object } {
  const names = toldFields.filter((name) => Object.hasOwn(change, name));
  const of = (row: object) => Object.fromEntries(names.map((name) => [name, Reflect.get(row, name) as unknown]));
  return { before: of(known), after: of(change) };
}

/** Writes the finding's history and the record alike. */
async function tell(tx: Db, seen: Told, line: ToldLine): Promise<void> {
  const { id: findingId, number, step, text } = line;
  const told = line.change ? beforeAndAfter(line.change) : { after: {} };
  await addFindingNote(tx, { findingId, number, at: seen.now, byUserId: seen.actor.userId, step, text });
  await appendRecord(tx, [
    {
      organisationId: seen.organisationId,
      at: seen.now,
      actor: recordName(seen.actor),
      what: `finding ${step.replaceAll("_", " ")}`,
      subjectKind: "finding",
      subjectId: findingId,
      ...told,
      after: { key: seen.key, signalWord: seen.signalWord, sentence: seen.sentence, ...told.after },
    },
  ]);
}

/**
 * Tells an open finding that the readings kept by now no longer show its cause: the plate or the plan was mended, or later readings
 * explain it. It stays open until a person closes it. Nothing happens where there is no such finding.
 */
export async function tellNotShown(tx: Db, gone: Pick<SeenCause, "organisationId" | "key" | "now" | "actor">): Promise<void> {
  const known = await findFindingByKey(tx, gone.organisationId, gone.key);
  if (known === null || known.state === "closed") return;
  if (!(await changeFinding(tx, known.id, known.version, {}))) return tellNotShown(tx, gone);
  const text = "The readings kept by now no longer show this. Check it, and close it as found not affected if nothing is left of it.";
  const seen = { ...gone, signalWord: storedWord(known), sentence: known.sentence };
  await tell(tx, seen, { id: known.id, number: known.version + 1, step: "not_shown_any_more", text });
}
