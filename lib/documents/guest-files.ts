import { type LinkKind, openLink } from "@/lib/access/secret-link";
import { Trouble } from "@/lib/access/trouble";
import {
  type Attachment,
  attachmentBytes,
  findAttachment,
  findAttachments,
  findSameAttachment,
  insertAttachment,
} from "@/lib/store/attachment-queries";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { appendRecord } from "@/lib/store/record";
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
  const { organisationId, subjectKind, subjectId } = await openLink(db, kind, { token, now });
  const files = await findAttachments(db, { organisationId, subjectKind, subjectId });
  return files.filter(({ withdrawnAt }) => withdrawnAt === null);
}

/** One of them. Throws `Trouble`. */
export async function openForGuest(
  db: Db,
  ask: GuestAsk,
  { id, size }: { id: string; size: "whole" | "small" },
): Promise<OpenedAttachment> {
  const { organisationId, subjectKind, subjectId } = await openLink(db, ask.kind, ask);
  const attachment = await findAttachment(db, organisationId, id);
  const isOfIt = attachment?.subjectKind === subjectKind && attachment.subjectId === subjectId && attachment.withdrawnAt === null;
  const bytes = isOfIt ? await attachmentBytes(db, id, size) : null;
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
    const source = `link ${link.id}`;
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
    return { id };
  });
}
