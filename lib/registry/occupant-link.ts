import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { openLink } from "@/lib/access/secret-link";
import { Trouble } from "@/lib/access/trouble";
import type { Ask } from "@/lib/matching/candidate";
import { findCandidates } from "@/lib/store/candidate-list-queries";
import type { Db, Store } from "@/lib/store/client";
import { findFinding } from "@/lib/store/finding-queries";
import { findTenancy, noteUnplugged, noticeOfLink, type OccupantNotice } from "@/lib/store/occupant-queries";
import type { Finding } from "@/lib/store/rows";
import { markOpened, type SecretLink } from "@/lib/store/secret-link-queries";
import { answerQuestion } from "./decision-answer";
import { writeOccupantLine } from "./occupant-line";
import { type NoticeFacts, noticeFacts } from "./occupant-notice";

/** How long an occupant's link is open (own choice: as long as a notice may hang on a door). */
export const occupantLinkDays = 60;

interface LinkAsk {
  readonly token: string;
  readonly now: Date;
}

interface Bearer {
  readonly link: SecretLink;
  readonly notice: OccupantNotice;
  readonly finding: Finding;
}

/** The one question that a recall's comparison has about the appliance. */
export interface OccupantQuestion {
  readonly candidateId: string;
  readonly field: Ask["field"];
  readonly noticeId: string;
}

/** What the page behind an occupant's link shows: their own appliance, and nothing else. */
export interface OccupantCase extends NoticeFacts {
  readonly language: string;
  readonly unpluggedAt: Date | null;
  readonly question: OccupantQuestion | null;
  readonly isSettled: boolean;
}

/** The bearer of a link, while the tenancy lasts. Throws `Trouble`. */
async function bearerOf(db: Db, { token, now }: LinkAsk): Promise<Bearer> {
  const link = await openLink(db, "occupant", { token, now });
  const notice = await noticeOfLink(db, link.id);
  const tenancy = notice && (await findTenancy(db, link.organisationId, notice.tenancyId));
  const finding = await findFinding(db, link.organisationId, link.subjectId);
  if (!notice || !tenancy || !finding || (tenancy.toAt !== null && tenancy.toAt <= now))
    throw new Trouble("not_allowed_now", "This link is not open any more: ask whoever sent it.");
  return { link, notice, finding };
}

/** The most urgent open question about the appliance that this occupant has not answered yet. */
async function questionOf(db: Db, { link, finding }: Bearer): Promise<OccupantQuestion | null> {
  const { organisationId } = link;
  const { applianceId, siteId } = finding;
  if (applianceId === null) return null;
  const filter = { applianceId, grades: ["check_label"], standings: ["undecided", "reopened", "unsure"] };
  const page = { sort: "work", order: "asc", skip: 0, take: 5 } as const;
  const open = await findCandidates(db, { organisationId, siteId: { in: [siteId] } }, filter, page);
  for (const { id: candidateId, ask, noticeId } of open) {
    const field = (ask as Ask | null)?.field;
    if (!field) continue;
    const where = { organisationId, applianceId, noticeId, field, source: "occupant", at: { gte: link.createdAt } };
    if ((await db.labelAnswer.findFirst({ where, select: { id: true } })) === null) return { candidateId, field, noticeId };
  }
  return null;
}

/** Opens the page; that it was opened is noted, and nothing else changes. Throws `Trouble` for a link that is not open. */
export async function readForOccupant(db: Db, ask: LinkAsk): Promise<OccupantCase> {
  const bearer = await bearerOf(db, ask);
  const facts = await noticeFacts(db, bearer.finding);
  if (!facts) throw new Trouble("not_found", "There is nothing here any more.");
  await markOpened(db, bearer.link.id, ask.now);
  const isSettled = bearer.finding.state === "closed";
  const { language, unpluggedAt } = bearer.notice;
  return { ...facts, language, unpluggedAt, isSettled, question: isSettled ? null : await questionOf(db, bearer) };
}

const lineBy = ({ link, notice }: Bearer) => ({
  byUserId: null,
  actor: `link ${link.id}`,
  after: { noticeId: notice.id, tenancyId: notice.tenancyId },
});

/** The occupant says that it is unplugged: a line of the finding. It stays to be checked by whoever works it. Said twice it stands once. */
export async function confirmUnplugged(db: Store, ask: LinkAsk): Promise<void> {
  await db.$transaction(async (tx) => {
    const bearer = await bearerOf(tx, ask);
    if (bearer.finding.state === "closed") throw new Trouble("not_allowed_now", "This is settled: nothing more is to be done.");
    if (!(await noteUnplugged(tx, bearer.notice.id, ask.now))) return;
    const text = "The occupant says, through the link, that it is unplugged.";
    await writeOccupantLine(tx, bearer.finding, { step: "occupant_unplugged", text, ...lineBy(bearer), now: ask.now });
  });
}

const answerShape = z.string().trim().min(1).max(200);

/**
 * The occupant reads a fact off the appliance. It may make a recall match surer and never clears one: an answer that would is kept for
 * the staff to look. Throws `Trouble`.
 */
export async function answerAsOccupant(db: Store, ask: LinkAsk & { readonly candidateId: string; readonly value: string }): Promise<void> {
  const bearer = await bearerOf(db, ask);
  const question = await questionOf(db, bearer);
  if (question?.candidateId !== ask.candidateId) throw new Trouble("changed_meanwhile", "This question is settled meanwhile.");
  const value = answerShape.safeParse(ask.value);
  if (!value.success) throw new Trouble("not_valid", "Write what the appliance says, at most 200 characters.");
  const { link, finding } = bearer;
  const actor: Actor = {
    userId: null,
    name: `link ${link.id}`,
    organisationId: link.organisationId,
    role: "surveyor",
    siteIds: [finding.siteId],
  };
  const { candidateId, field } = question;
  const { written } = await answerQuestion(db, actor, { candidateId, field, value: value.data, source: "occupant", now: ask.now });
  await db.$transaction(async (tx) => {
    const latest = (await findFinding(tx, finding.organisationId, finding.id)) ?? finding;
    const kept = written ? "" : " It would speak against the recall, so it is kept, not written: look at the label.";
    const text = `The occupant read off it, ${fieldWords[field]}: “${value.data}”.${kept}`;
    await writeOccupantLine(tx, latest, { step: "occupant_answered", text, ...lineBy(bearer), now: ask.now });
  });
}

const fieldWords: Readonly<Record<Ask["field"], string>> = {
  brand: "maker",
  model: "model",
  serial: "serial number",
  dateCode: "date code",
  made: "date of manufacture",
  product: "kind",
  upc: "UPC",
};
