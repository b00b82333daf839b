import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { type Permission, requirePermission } from "@/lib/access/permissions";
import { issueLink, openLink } from "@/lib/access/secret-link";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import { addFindingNote, changeFinding, findFinding, findingHistory } from "@/lib/store/finding-queries";
import { appendRecord, holdRecord } from "@/lib/store/record";
import type { Finding, FindingNote } from "@/lib/store/rows";
import { markOpened, markUsed, type SecretLink } from "@/lib/store/secret-link-queries";
import { type ShownFinding, showFindings } from "./shown-finding";

/** Who is let in to one finding without a sign-in: a contractor who does the work, or a checker who looks at a danger's evidence. */
export type CaseGuest = "contractor" | "outside_checker";

interface GuestRules {
  readonly words: string;
  readonly permission: Permission;
  readonly days: number;
}

export const guestRules: Readonly<Record<CaseGuest, GuestRules>> = {
  contractor: { words: "contractor", permission: "work findings", days: 30 },
  outside_checker: { words: "checker from outside", permission: "close findings", days: 14 },
};

const payloadSchema = z.object({ name: z.string() });

/** A finding as a guest sees it. */
export interface CaseForGuest {
  readonly link: SecretLink;
  /** Who the link was made for. */
  readonly name: string;
  readonly organisation: string;
  readonly shown: ShownFinding;
  /** What was done and proved so far. */
  readonly lines: readonly Pick<FindingNote, "at" | "step" | "text">[];
}

/** A form for a guest's link; the link has the form's id. */
export interface GuestInvitation {
  readonly findingId: string;
  readonly guest: CaseGuest;
  readonly name: string;
  readonly formId?: string | undefined;
  readonly now: Date;
}

/** Makes a guest's link to one finding. Returns its secret part, to be handed over or mailed. Throws `Refused` or `Trouble`. */
export async function inviteGuest(db: Store, actor: Actor, given: GuestInvitation): Promise<{ token: string }> {
  const { findingId, guest, formId, now } = given;
  const { words, permission, days } = guestRules[guest];
  const name = given.name.trim();
  if (name === "") throw new Trouble("not_valid", "Say who gets the link.", { name: "Say who gets the link." });
  return db.$transaction(async (tx) => {
    await holdRecord(tx, actor.organisationId);
    const finding = await liveFinding(tx, actor.organisationId, findingId);
    requirePermission(actor, permission, finding.siteId);
    if (guest === "outside_checker" && finding.signalWord !== "DANGER")
      throw new Trouble("not_allowed_now", "Only a danger is checked from outside: a colleague may close this one.");
    const subject = { kind: "finding", id: findingId };
    const { organisationId, userId: byUserId } = actor;
    const token = await issueLink(tx, { formId, organisationId, kind: guest, subject, payload: { name }, days, byUserId, now });
    const text = `A link for ${days} days was made for the ${words} ${name}.`;
    await writeLine(tx, finding, { step: "guest_invited", text, byUserId, actor: recordName(actor), now });
    return { token };
  });
}

async function liveFinding(tx: Db, organisationId: string, id: string): Promise<Finding> {
  const finding = await findFinding(tx, organisationId, id);
  if (finding === null) throw new Trouble("not_found", "There is no such finding here.");
  if (finding.state === "closed") throw new Trouble("not_allowed_now", "This finding is closed: nothing more is to be done.");
  return finding;
}

interface Line {
  readonly step: string;
  readonly text: string;
  readonly byUserId: string | null;
  readonly actor: string;
  readonly now: Date;
}

async function writeLine(tx: Db, finding: Finding, { step, text, byUserId, actor, now }: Line): Promise<void> {
  if (!(await changeFinding(tx, finding.id, finding.version, {})))
    throw new Trouble("changed_meanwhile", "Somebody changed this finding at this moment: send it again.");
  await addFindingNote(tx, { findingId: finding.id, number: finding.version + 1, at: now, byUserId, step, text });
  const { organisationId } = finding;
  const entry = { organisationId, at: now, actor, subjectKind: "finding", subjectId: finding.id };
  await appendRecord(tx, [{ ...entry, what: `finding ${step.replaceAll("_", " ")}`, after: { text } }]);
}

const toldSteps = ["record_proof", "outside_agreed", "outside_objected", "take_out_of_use", "retest", "receive_remedy"];

/** What a guest's link shows. Throws `Trouble` for a link that is not open, or a finding that is closed. */
export async function readCase(db: Db, guest: CaseGuest, { token, now }: { token: string; now: Date }): Promise<CaseForGuest> {
  const link = await openLink(db, guest, { token, now });
  const finding = await liveFinding(db, link.organisationId, link.subjectId);
  const [shown] = await showFindings(db, [finding]);
  if (!shown) throw new Trouble("not_found", "There is no such finding here.");
  const organisation = await db.organisation.findUniqueOrThrow({ where: { id: link.organisationId } });
  const history = await findingHistory(db, finding.id);
  await markOpened(db, link.id, now);
  const lines = history.filter(({ step }) => toldSteps.includes(step ?? ""));
  return { link, name: payloadSchema.parse(link.payload).name, organisation: organisation.name, shown, lines };
}

/** What a guest says of the finding. */
interface GuestWord {
  readonly token: string;
  readonly text: string;
  readonly now: Date;
}

async function say(
  db: Store,
  guest: CaseGuest,
  { token, text, now }: GuestWord,
  how: { step: string; ends: boolean; before: string },
): Promise<void> {
  if (text.trim() === "") throw new Trouble("not_valid", "Write a sentence or two.", { text: "Write a sentence or two." });
  await db.$transaction(async (tx) => {
    const link = await openLink(tx, guest, { token, now });
    const finding = await liveFinding(tx, link.organisationId, link.subjectId);
    if (how.ends && !(await markUsed(tx, link.id, now))) throw new Trouble("not_allowed_now", "This link was used already.");
    const { name } = payloadSchema.parse(link.payload);
    const said = `${name} (${guestRules[guest].words}): ${how.before}${text.trim()}`;
    await writeLine(tx, finding, { step: how.step, text: said, byUserId: null, actor: `link ${link.id}`, now });
  });
}

/** A contractor's report. When the work is done it is proof for whoever closes, and the link ends. Throws `Trouble`. */
export function reportWork(db: Store, { done, ...word }: GuestWord & { readonly done: boolean }): Promise<void> {
  return say(db, "contractor", word, done ? { step: "record_proof", ends: true, before: "" } : { step: "note", ends: false, before: "" });
}

/** A checker's word on the evidence; the link ends with it. Throws `Trouble`. */
export function checkFromOutside(db: Store, { agrees, ...word }: GuestWord & { readonly agrees: boolean }): Promise<void> {
  const how = agrees
    ? { step: "outside_agreed", ends: true, before: "agrees that it is settled. " }
    : { step: "outside_objected", ends: true, before: "does not agree that it is settled. " };
  return say(db, "outside_checker", word, how);
}
