import { type LinkKind, openLink } from "@/lib/access/secret-link";
import { Trouble } from "@/lib/access/trouble";
import { writeOccupantLine } from "@/lib/registry/occupant-line";
import {
  type Attachment,
  attachmentBytes,
  findAttachment,
  findAttachments,
  findSameAttachment,
  insertAttachment,
} from "@/lib/store/attachment-queries";
import type { Db, Store } from "@/lib/store/client";
import { findFinding } from "@/lib/store/finding-queries";
import { newId } from "@/lib/store/ids";
import { appendRecord } from "@/lib/store/record";
import type { SecretLink } from "@/lib/store/secret-link-queries";
import { type OpenedAttachment, plainName } from "./attachments";
import { keptFile } from "./kept-file";

interface GuestAsk {
  readonly kind: LinkKind;
  readonly token: string;
  readonly now: Date;
}

/** Most files that one link may bring. */
const mostFiles = 20;

/** The files kept with what a link is about, without those that were taken back. Throws `Trouble` for a link that is not open. */
export async function filesForGuest(db: Db, { kind, token, now }: GuestAsk): Promise<Attachment[]> {
  const link = await openLink(db, kind, { token, now });
  const { organisationId, subjectKind, subjectId } = link;
  const files = await findAttachments(db, { organisationId, subjectKind, subjectId });
  return files.filter((file) => file.withdrawnAt === null && mayOpen(link, file));
}

/** An occupant sees what came through their own link; what others keep with the finding is not theirs. */
function mayOpen(link: Pick<SecretLink, "id" | "kind">, file: Pick<Attachment, "source">): boolean {
  return link.kind !== "occupant" || file.source === sourceOf(link);
}

const sourceOf = ({ id }: Pick<SecretLink, "id">) => `link ${id}`;

/** One of them. Throws `Trouble`. */
export async function openForGuest(
  db: Db,
  ask: GuestAsk,
  { id, size }: { id: string; size: "whole" | "small" },
): Promise<OpenedAttachment> {
  const link = await openLink(db, ask.kind, ask);
  const { organisationId, subjectKind, subjectId } = link;
  const attachment = await findAttachment(db, organisationId, id);
  const isOfIt = attachment?.subjectKind === subjectKind && attachment.subjectId === subjectId && attachment.withdrawnAt === null;
  const bytes = isOfIt && mayOpen(link, attachment) ? await attachmentBytes(db, id, size) : null;
  if (!attachment || !bytes) throw new Trouble("not_found", "There is no such file here.");
  return { attachment, bytes };
}

/**
 * Keeps a photo or PDF that came through a link with what the link is about, at most twenty a link. Throws `Trouble`. `siteId` is
 * where the thing is.
 */
export async function addFileByGuest(
  db: Store,
  ask: GuestAsk,
  given: { readonly bytes: Uint8Array; readonly fileName: string; readonly note: string },
): Promise<{ id: string }> {
  await openLink(db, ask.kind, ask);
  const { bytes, thumbnail, ...file } = await keptFile(given.bytes);
  return db.$transaction(async (tx) => {
    const link = await openLink(tx, ask.kind, ask);
    const { organisationId, subjectKind, subjectId } = link;
    const source = sourceOf(link);
    const same = await findSameAttachment(tx, { organisationId, subjectKind, subjectId, sha256: file.sha256 });
    if (same) return { id: same.id };
    const there = await tx.attachment.count({ where: { organisationId, source } });
    if (there >= mostFiles) throw new Trouble("too_large", `More than ${mostFiles} files cannot come through one link: describe the rest.`);
    const id = newId();
    const fileName = plainName(given.fileName, file.mediaType);
    const note = given.note.trim().slice(0, 500) || null;
    const row = { id, organisationId, siteId: null, subjectKind, subjectId, fileName, ...file, byteLength: bytes.length, note };
    await insertAttachment(tx, { ...row, byUserId: null, source, at: ask.now, bytes, thumbnail });
    const entry = { organisationId, at: ask.now, actor: source, subjectKind, subjectId };
    await appendRecord(tx, [{ ...entry, what: "file kept", after: { id, fileName, sha256: file.sha256, note } }]);
    if (link.kind === "occupant") await noteOccupantPhoto(tx, link, { fileId: id, now: ask.now });
    return { id };
  });
}

async function noteOccupantPhoto(tx: Db, link: SecretLink, { fileId, now }: { fileId: string; now: Date }): Promise<void> {
  const finding = await findFinding(tx, link.organisationId, link.subjectId);
  if (!finding) return;
  const line = { step: "occupant_photo", text: "The occupant sent a photo through the link.", byUserId: null, after: { fileId } } as const;
  await writeOccupantLine(tx, finding, { ...line, actor: sourceOf(link), now });
}
