import { hashPassword } from "better-auth/crypto";
import type { Db, Store } from "@/lib/store/client";
import { appendRecord } from "@/lib/store/record";
import { markUsed, withdrawSecretLinks } from "@/lib/store/secret-link-queries";
import { setPasswordHash } from "./add-person";
import { accountKey } from "./lockout";
import { passwordProblem } from "./password-rule";
import { issueLink, openLink } from "./secret-link";
import { Trouble } from "./trouble";

const hour = 1 / 24;
/** Mails for one account in an hour, so that nobody's mailbox can be filled. Common practice, no source. */
const mostAnHour = 3;

/** The mail to be sent for a forgotten password. */
export interface ResetMail {
  readonly organisationId: string;
  readonly to: string;
  readonly token: string;
}

/**
 * Makes the link of a forgotten password, open for an hour, and hands its mail to `send`, in one transaction. Nothing happens, and
 * nothing tells so, for an address that nobody here has, or that asked too often.
 */
export async function askForReset(
  db: Store,
  { email, now, send }: { readonly email: string; readonly now: Date; readonly send: (tx: Db, mail: ResetMail) => Promise<void> },
): Promise<void> {
  await db.$transaction(async (tx) => {
    const user = await tx.user.findUnique({ where: { email: accountKey(email) }, include: { memberships: { where: { endedAt: null } } } });
    const organisationId = user?.memberships[0]?.organisationId;
    if (!user || organisationId === undefined) return;
    const about = { organisationId, kind: "password_reset", subjectKind: "user", subjectId: user.id };
    const lately = await tx.secretLink.count({ where: { ...about, createdAt: { gt: new Date(now.getTime() - hour * 86_400_000) } } });
    if (lately >= mostAnHour) return;
    await withdrawSecretLinks(tx, about, now);
    const subject = { kind: "user", id: user.id };
    const token = await issueLink(tx, { organisationId, kind: "password_reset", subject, payload: {}, days: hour, byUserId: null, now });
    await send(tx, { organisationId, to: user.email, token });
  });
}

/** Sets the new password of whoever holds the link, ends all their sessions and the link. Throws `Trouble`. */
export async function resetByLink(
  db: Store,
  { token, password, now }: { readonly token: string; readonly password: string; readonly now: Date },
): Promise<void> {
  const link = await openLink(db, "password_reset", { token, now });
  const user = await db.user.findUniqueOrThrow({ where: { id: link.subjectId } });
  const weak = passwordProblem(password, user);
  if (weak) throw new Trouble("not_valid", weak, { password: weak });
  const hash = await hashPassword(password);
  await db.$transaction(async (tx) => {
    if (!(await markUsed(tx, link.id, now))) throw new Trouble("not_allowed_now", "This link was used already: sign in.");
    await setPasswordHash(tx, { userId: user.id, hash, now });
    await tx.signInAttempt.deleteMany({ where: { email: user.email } });
    const { organisationId } = link;
    await appendRecord(tx, [
      { organisationId, at: now, actor: user.id, what: "reset own password", subjectKind: "user", subjectId: user.id },
    ]);
  });
}
