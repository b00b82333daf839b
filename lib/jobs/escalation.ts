import { publicUrl } from "@/lib/access/public-url";
import { toldOfOverdue } from "@/lib/casework/escalation";
import { isSignalWord } from "@/lib/casework/signal-word";
import { mailServer } from "@/lib/documents/mail-server";
import { queueMessage } from "@/lib/documents/message";
import { overdueMail } from "@/lib/documents/overdue-mail";
import type { Db, Store } from "@/lib/store/client";
import { addFindingNote, changeFinding, membersAt } from "@/lib/store/finding-queries";
import { appendRecord } from "@/lib/store/record";
import type { Finding } from "@/lib/store/rows";
import { membersById, untoldOverdue, watchersOf } from "@/lib/store/watcher-queries";

/** Findings told of in one look; the next look takes the rest. */
const atOnce = 100;
const dayMs = 86_400_000;

/**
 * Tells of every finding that is past its due date, once for each date: a line in its history, the record, and mails where a mail
 * server is set. Any number of workers may look at once; each finding is told of by one.
 */
export async function escalateOverdue(db: Store, at: Date): Promise<void> {
  for (const finding of await untoldOverdue(db, at, atOnce)) await db.$transaction((tx) => escalate(tx, finding, at));
}

async function escalate(tx: Db, finding: Finding, at: Date): Promise<void> {
  if (!(await changeFinding(tx, finding.id, finding.version, { escalatedDueAt: finding.dueAt }))) return;
  const told = await tellPeople(tx, finding, at);
  const whom = told.length === 0 ? "" : ` Told: ${told.length} ${told.length === 1 ? "person" : "people"}.`;
  const text = `Overdue since ${finding.dueAt.toISOString().slice(0, 10)}.${whom}`;
  await addFindingNote(tx, { findingId: finding.id, number: finding.version + 1, at, byUserId: null, step: "overdue", text });
  const { organisationId } = finding;
  const entry = { organisationId, at, actor: "schedule", subjectKind: "finding", subjectId: finding.id };
  await appendRecord(tx, [{ ...entry, what: "finding overdue", after: { dueAt: finding.dueAt, told } }]);
}

/** Queues the mails; returns the ids of those who get one. */
async function tellPeople(tx: Db, finding: Finding, at: Date): Promise<string[]> {
  if (mailServer() === null) return [];
  const { organisationId, siteId, ownerId } = finding;
  const managers = await membersAt(tx, { organisationId, siteId, roles: ["administrator", "manager"] });
  const watchers = await watchersOf(tx, finding.id);
  const word = isSignalWord(finding.signalWord) ? finding.signalWord : "WARNING";
  const concerned = { ownerId, watcherIds: watchers.map(({ userId }) => userId), managerIds: managers.map(({ id }) => id) };
  const people = await membersById(tx, organisationId, toldOfOverdue(word, concerned));
  const site = await tx.site.findUniqueOrThrow({ where: { id: siteId }, select: { name: true } });
  const home = publicUrl();
  const days = Math.floor((at.getTime() - finding.dueAt.getTime()) / dayMs);
  const address = home === null ? null : `${home}/findings/${finding.id}`;
  const mail = overdueMail({ signalWord: word, sentence: finding.sentence, site: site.name, days, address });
  const about = { kind: "finding", id: finding.id };
  for (const { email } of people)
    await queueMessage(tx, { organisationId, kind: "overdue", to: email, ...mail, about, byUserId: null, now: at });
  return people.map(({ id }) => id);
}
