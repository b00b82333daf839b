import type { Db } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { queueJob } from "@/lib/store/job-queries";
import { insertMessage } from "@/lib/store/message-queries";

/** The job that hands one message to the mail server. */
export const mailJobKind = "mail";

/** A mail to be sent, and what it is about, so that its fate is shown there. */
export interface MessageDraft {
  readonly organisationId: string;
  readonly kind: string;
  readonly to: string;
  readonly subject: string;
  readonly text: string;
  readonly about: { readonly kind: string; readonly id: string };
  readonly byUserId: string | null;
  readonly now: Date;
}

/**
 * Queues a mail; a worker hands it over, and tries again when the server is away. Call it inside the transaction that is the reason for
 * it, so that neither stands without the other. Returns the message's id.
 */
export async function queueMessage(tx: Db, { about, to, now, ...draft }: MessageDraft): Promise<string> {
  const id = newId();
  await insertMessage(tx, { ...draft, id, toAddress: to, subjectKind: about.kind, subjectId: about.id, createdAt: now });
  await queueDelivery(tx, { id, organisationId: draft.organisationId, attempt: 1, at: now });
  return id;
}

/** Queues the next attempt to hand a message over. */
export async function queueDelivery(tx: Db, next: { id: string; organisationId: string; attempt: number; at: Date }): Promise<void> {
  const { id, organisationId, attempt, at } = next;
  await queueJob(tx, { id: `mail:${id}:${attempt}`, organisationId, kind: mailJobKind, payload: { message: id }, byUserId: null, at });
}
