import { z } from "zod";
import { mailServer, noMailServer } from "@/lib/documents/mail-server";
import { queueDelivery } from "@/lib/documents/message";
import type { Store } from "@/lib/store/client";
import { changeMessage, findMessage, type OutgoingMessage } from "@/lib/store/message-queries";
import type { JobWork } from "./worker";

const payloadSchema = z.object({ message: z.string() });
const minute = 60_000;
/** Waits between attempts, about ten hours in all (common practice, no source). */
const waitsMs = [minute, 5 * minute, 30 * minute, 2 * 60 * minute, 8 * 60 * minute];

/** A mail that is kept after it went, without the secret part of the links in it: only their receiver has that. */
function withoutSecrets(text: string): string {
  return text.replace(/(https?:\/\/\S*\/)[\w-]{43}(?![\w-])/g, "$1...");
}

/** The work of a mail job: hands one message over, once; puts it off or gives it up where the server does not take it. */
export const sendMail: JobWork = async (db, { job, clock }) => {
  const message = await findMessage(db, job.organisationId, payloadSchema.parse(job.payload).message);
  if (message === null || message.state !== "queued") return { message: "There was nothing to send any more." };
  const attempts = message.attempts + 1;
  const server = mailServer();
  if (server === null) return giveUp(db, message, { attempts, problem: noMailServer });
  try {
    const outcome = await server.handOver({ id: message.id, to: message.toAddress, subject: message.subject, text: message.text });
    if (outcome.taken) {
      const text = withoutSecrets(message.text);
      await changeMessage(db, message, { from: "queued", state: "sent", attempts, problem: null, sentAt: clock(), text });
      return { message: "The mail server took it." };
    }
    const { problem, again } = outcome;
    const wait = waitsMs[attempts - 1];
    if (!again)
      await changeMessage(db, message, { from: "queued", state: "refused", attempts, problem, text: withoutSecrets(message.text) });
    else if (wait === undefined) return giveUp(db, message, { attempts, problem });
    else await putOff(db, message, { attempts, problem, at: new Date(clock().getTime() + wait) });
    return { message: problem };
  } finally {
    server.close();
  }
};

async function giveUp(db: Store, message: OutgoingMessage, change: { attempts: number; problem: string }): Promise<{ message: string }> {
  await changeMessage(db, message, { from: "queued", state: "given_up", ...change, text: withoutSecrets(message.text) });
  return { message: change.problem };
}

async function putOff(db: Store, message: OutgoingMessage, next: { attempts: number; problem: string; at: Date }): Promise<void> {
  const { attempts, problem, at } = next;
  await db.$transaction(async (tx) => {
    await changeMessage(tx, message, { from: "queued", attempts, problem });
    await queueDelivery(tx, { id: message.id, organisationId: message.organisationId, attempt: attempts + 1, at });
  });
}
