import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { mayTake } from "@/lib/casework/step";
import type { Notice } from "@/lib/notices/notice";
import type { Db } from "@/lib/store/client";
import { findFinding } from "@/lib/store/finding-queries";
import { findMessagesAbout, type MessageState } from "@/lib/store/message-queries";
import { findNotice } from "@/lib/store/notice-queries";
import { findContact, noticesAbout, type OccupantNotice, type SiteContact, type Tenancy, tenanciesAt } from "@/lib/store/occupant-queries";
import type { Finding } from "@/lib/store/rows";
import { type ShownFinding, showFindings } from "./shown-finding";

/** What a notice to an occupant says of the finding: facts only, in no language. */
export interface NoticeFacts {
  readonly shown: ShownFinding & { readonly appliance: NonNullable<ShownFinding["appliance"]> };
  readonly organisation: string;
  readonly contact: SiteContact | null;
  /** The recall that it rests on, in its publisher's own words. */
  readonly recall: Pick<Notice, "number" | "hazard" | "remedy" | "contact"> | null;
}

/** A notice that went out, and the fate of its mail; `mail` is null for a printed one. */
export interface SentNotice extends OccupantNotice {
  readonly mail: { readonly state: MessageState; readonly problem: string | null; readonly sentAt: Date | null } | null;
}

/** A finding as far as its occupant is concerned. */
export interface NoticeGround extends NoticeFacts {
  /** Who is in the appliance's unit now. */
  readonly tenancies: readonly Tenancy[];
  readonly sent: readonly SentNotice[];
  readonly mayTell: boolean;
}

/** The facts of a finding of an appliance; null where it is of something else. */
export async function noticeFacts(db: Db, finding: Finding): Promise<NoticeFacts | null> {
  const [shown] = await showFindings(db, [finding]);
  if (!shown?.appliance) return null;
  const { organisationId, siteId, noticeId } = finding;
  const organisation = await db.organisation.findUniqueOrThrow({ where: { id: organisationId }, select: { name: true } });
  const notice = noticeId === null ? null : await findNotice(db, organisationId, noticeId);
  const recall = notice ? notice.body : null;
  const contact = await findContact(db, siteId);
  return { shown: { ...shown, appliance: shown.appliance }, organisation: organisation.name, contact, recall };
}

/** The notices about a finding with the fate of each mail, the latest first. */
export async function sentNotices(db: Db, organisationId: string, findingId: string): Promise<SentNotice[]> {
  const notices = await noticesAbout(db, organisationId, findingId);
  const mails = await findMessagesAbout(db, { organisationId, subjectKind: "finding", subjectId: findingId });
  const byId = new Map(mails.map(({ id, state, problem, sentAt }) => [id, { state, problem, sentAt }]));
  return notices.map((notice) => ({ ...notice, mail: byId.get(notice.messageId ?? "") ?? null }));
}

/** Permission: `tell occupants` at the finding's site; throws `Trouble` where there is no such finding, or it is not of an appliance. */
export async function noticeGround(
  db: Db,
  actor: Actor,
  { findingId, now }: { readonly findingId: string; readonly now: Date },
): Promise<NoticeGround> {
  requirePermission(actor, "tell occupants");
  const { organisationId } = actor;
  const finding = await findFinding(db, organisationId, findingId);
  if (!finding) throw new Trouble("not_found", "There is no such finding here.");
  requirePermission(actor, "tell occupants", finding.siteId);
  const facts = await noticeFacts(db, finding);
  if (!facts) throw new Trouble("not_found", "This finding is not about an appliance: there is no occupant to tell of it.");
  const { unitId } = facts.shown.appliance;
  return {
    ...facts,
    tenancies: unitId === null ? [] : await tenanciesAt(db, unitId, now),
    sent: await sentNotices(db, organisationId, findingId),
    mayTell: mayTake("tell_occupant", facts.shown.facts, actor.role),
  };
}
