import type { Db } from "./client";
import type { MessageState, OutgoingMessage } from "./generated/sqlite/client";

export type { MessageState, OutgoingMessage };

export type NewMessage = Omit<OutgoingMessage, "state" | "attempts" | "problem" | "sentAt">;

export async function insertMessage(tx: Db, message: NewMessage): Promise<void> {
  await tx.outgoingMessage.create({ data: { ...message, state: "queued" } });
}

export function findMessage(db: Db, organisationId: string, id: string): Promise<OutgoingMessage | null> {
  return db.outgoingMessage.findFirst({ where: { id, organisationId } });
}

/** The messages about a thing, the latest first. */
export function findMessagesAbout(
  db: Db,
  where: Pick<OutgoingMessage, "organisationId" | "subjectKind" | "subjectId">,
): Promise<OutgoingMessage[]> {
  return db.outgoingMessage.findMany({ where, orderBy: [{ createdAt: "desc" }, { id: "asc" }] });
}

/** Changes a message that is in the state `from`; false when it is not any more. */
export async function changeMessage(
  db: Db,
  message: Pick<OutgoingMessage, "id">,
  { from, ...change }: { from: MessageState } & Partial<Pick<OutgoingMessage, "state" | "attempts" | "problem" | "sentAt" | "text">>,
): Promise<boolean> {
  return (await db.outgoingMessage.updateMany({ where: { id: message.id, state: from }, data: change })).count === 1;
}
