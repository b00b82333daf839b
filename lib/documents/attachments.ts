import { type Actor, recordName } from "@/lib/access/actor";
import { type Permission, requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { requireNotHeld } from "@/lib/registry/hold";
import {
  type Attachment,
  attachmentBytes,
  attachmentKinds,
  findAttachment,
  findAttachments,
  findSameAttachment,
  insertAttachment,
  siteOfThing,
  withdrawAttachment,
} from "@/lib/store/attachment-queries";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { appendRecord } from "@/lib/store/record";
import { keptFile } from "./kept-file";

/** The thing that a photo or document is kept with. */
export interface Subject {
  readonly kind: string;
  readonly id: string;
}

interface SubjectRules {
  readonly see: Permission;
  readonly add: Permission;
}

/** Who may see and add files, by the kind of thing. */
const rules: Readonly<Record<string, SubjectRules>> = {
  appliance: { see: "see appliances", add: "edit appliances" },
  finding: { see: "see findings", add: "work findings" },
  inspection: { see: "see inspections", add: "record inspections" },
};

async function requireSubject(db: Db, actor: Actor, subject: Subject, what: keyof SubjectRules): Promise<string> {
  const rule = attachmentKinds.includes(subject.kind) ? rules[subject.kind] : undefined;
  const siteId = rule ? await siteOfThing(db, actor.organisationId, subject.kind, subject.id) : null;
  if (!rule || siteId === null) throw new Trouble("not_found", "There is no such thing here to keep a file with.");
  requirePermission(actor, rule[what], siteId);
  return siteId;
}

export interface ArrivedFile {
  readonly subject: Subject;
  readonly bytes: Uint8Array;
  readonly fileName: string;
  readonly note: string;
  readonly now: Date;
}

/** A name as people know it, without a path, control characters or an ending that says something else than what is kept. */
export function plainName(fileName: string, mediaType: string): string {
  const base = (fileName.split(/[\\/]/).pop() ?? "")
    .replace(/\p{C}/gu, "")
    .trim()
    .slice(0, 120)
    .replace(/\.\w{1,5}$/, "");
  return `${base || "file"}${mediaType === "application/pdf" ? ".pdf" : ".jpg"}`;
}

/**
 * Keeps a photo or a PDF with a thing, with its record entry. The same file sent twice is kept once. Throws `Refused`, or `Trouble`
 * when the thing is unknown or the file is no photo and no PDF. Returns the attachment's id.
 */
export async function addAttachment(db: Store, actor: Actor, arrived: ArrivedFile): Promise<{ id: string }> {
  const { subject, now } = arrived;
  const siteId = await requireSubject(db, actor, subject, "add");
  const { bytes, thumbnail, ...file } = await keptFile(arrived.bytes);
  const where = { organisationId: actor.organisationId, subjectKind: subject.kind, subjectId: subject.id };
  return db.$transaction(async (tx) => {
    const same = await findSameAttachment(tx, { ...where, sha256: file.sha256 });
    if (same) return { id: same.id };
    const id = newId();
    const fileName = plainName(arrived.fileName, file.mediaType);
    const note = arrived.note.trim().slice(0, 500) || null;
    const row = {
      id,
      ...where,
      siteId,
      fileName,
      ...file,
      byteLength: bytes.length,
      note,
      byUserId: actor.userId,
      source: "person",
      at: now,
    };
    await insertAttachment(tx, { ...row, bytes, thumbnail });
    await appendRecord(tx, [entry(actor, subject, now, { what: "file kept", after: { id, fileName, sha256: file.sha256, note } })]);
    return { id };
  });
}

function entry(actor: Actor, subject: Subject, at: Date, change: { what: string; before?: object; after?: object }) {
  const { organisationId } = actor;
  return { organisationId, at, actor: recordName(actor), subjectKind: subject.kind, subjectId: subject.id, ...change };
}

/** The files kept with a thing, the latest first. Throws `Refused` or `Trouble`. */
export async function attachmentsOf(db: Db, actor: Actor, subject: Subject): Promise<Attachment[]> {
  await requireSubject(db, actor, subject, "see");
  return findAttachments(db, { organisationId: actor.organisationId, subjectKind: subject.kind, subjectId: subject.id });
}

export interface OpenedAttachment {
  readonly attachment: Attachment;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** One file for whoever may see the thing it is kept with. A photo's small copy where it is asked for. Throws `Refused` or `Trouble`. */
export async function openAttachment(
  db: Db,
  actor: Actor,
  { id, size }: { id: string; size: "whole" | "small" },
): Promise<OpenedAttachment> {
  const attachment = await findAttachment(db, actor.organisationId, id);
  const bytes = attachment ? await attachmentBytes(db, id, size) : null;
  if (!attachment || !bytes) throw new Trouble("not_found", "There is no such file here.");
  await requireSubject(db, actor, { kind: attachment.subjectKind, id: attachment.subjectId }, "see");
  return { attachment, bytes };
}

/** Marks a file as brought by mistake, with the reason: it stays, and the record with it. Throws `Refused` or `Trouble`. */
export async function takeBackAttachment(db: Store, actor: Actor, { id, why, now }: { id: string; why: string; now: Date }): Promise<void> {
  const attachment = await findAttachment(db, actor.organisationId, id);
  if (!attachment) throw new Trouble("not_found", "There is no such file here.");
  const subject = { kind: attachment.subjectKind, id: attachment.subjectId };
  await requireSubject(db, actor, subject, "add");
  if (attachment.siteId !== null && subject.kind === "appliance")
    await requireNotHeld(db, { organisationId: actor.organisationId, id: subject.id, siteId: attachment.siteId });
  if (why.trim() === "") throw new Trouble("not_valid", "Say why the file does not belong here.", { why: "Say why." });
  await db.$transaction(async (tx) => {
    if (!(await withdrawAttachment(tx, id, { withdrawnAt: now, withdrawnWhy: why.trim() })))
      throw new Trouble("changed_meanwhile", "Somebody took this file back already.");
    const { fileName, sha256 } = attachment;
    await appendRecord(tx, [entry(actor, subject, now, { what: "file taken back", before: { id, fileName, sha256 }, after: { why } })]);
  });
}
