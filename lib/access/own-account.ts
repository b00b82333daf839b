import { hashPassword, verifyPassword } from "better-auth/crypto";
import type { Db, Store } from "@/lib/store/client";
import { appendRecord } from "@/lib/store/record";
import { type Actor, recordName } from "./actor";
import { countAttempt, lockedSentence } from "./lockout";
import { passwordProblem } from "./password-rule";
import { Trouble } from "./trouble";

/** One browser in which the person is signed in. */
export interface OwnSession {
  readonly id: string;
  readonly browser: string | null;
  readonly address: string | null;
  readonly since: Date;
  readonly lastSeen: Date;
  readonly isThisOne: boolean;
}

export interface OwnPasskey {
  readonly id: string;
  readonly name: string | null;
  readonly createdAt: Date | null;
}

export interface OwnAccount {
  readonly email: string;
  readonly name: string;
  readonly hasSecondStep: boolean;
  readonly passkeys: readonly OwnPasskey[];
  readonly sessions: readonly OwnSession[];
}

function requireUser(actor: Actor): string {
  if (actor.userId === null) throw new Trouble("not_found", "Only a signed-in person has an account.");
  return actor.userId;
}

/** The actor's own account; `sessionId` is the session that asks. */
export async function ownAccount(db: Db, actor: Actor, { sessionId, now }: { sessionId: string; now: Date }): Promise<OwnAccount> {
  const id = requireUser(actor);
  const user = await db.user.findUniqueOrThrow({
    where: { id },
    include: {
      passkeys: { orderBy: { createdAt: "asc" } },
      sessions: { where: { expiresAt: { gt: now } }, orderBy: { updatedAt: "desc" } },
    },
  });
  return {
    email: user.email,
    name: user.name,
    hasSecondStep: user.twoFactorEnabled === true,
    passkeys: user.passkeys.map(({ id: passkey, name, createdAt }) => ({ id: passkey, name, createdAt })),
    sessions: user.sessions.map((session) => ({
      id: session.id,
      browser: session.userAgent,
      address: session.ipAddress,
      since: session.createdAt,
      lastSeen: session.updatedAt,
      isThisOne: session.id === sessionId,
    })),
  };
}

/** Ends one of the actor's own sessions, or with `null` all but the one that asks. Returns how many ended. */
export async function endSessions(db: Store, actor: Actor, given: { which: string | null; sessionId: string; now: Date }): Promise<number> {
  const userId = requireUser(actor);
  const { which, sessionId, now } = given;
  return db.$transaction(async (tx) => {
    const { count } = await tx.session.deleteMany({ where: { userId, id: which ?? { not: sessionId } } });
    if (count > 0) await tell(tx, actor, { what: "ended own sessions", now, after: { sessions: count } });
    return count;
  });
}

/** Changes the actor's own password, with the present one, and ends all other sessions. Throws `Trouble` that names the field. */
export async function changeOwnPassword(
  db: Store,
  actor: Actor,
  given: { readonly present: string; readonly password: string; readonly sessionId: string; readonly now: Date },
): Promise<void> {
  const { sessionId, now } = given;
  const id = requireUser(actor);
  const user = await db.user.findUniqueOrThrow({ where: { id } });
  await requirePresentPassword(db, user, { present: given.present, now });
  const weak = passwordProblem(given.password, user);
  if (weak) throw new Trouble("not_valid", weak, { password: weak });
  const hash = await hashPassword(given.password);
  await db.$transaction(async (tx) => {
    await tx.account.updateMany({ where: { userId: id, providerId: "credential" }, data: { password: hash } });
    await tx.session.deleteMany({ where: { userId: id, id: { not: sessionId } } });
    await tell(tx, actor, { what: "changed own password", now, after: {} });
  });
}

/** Guesses count against the same lock as those of signing in: a stolen session must not become a password. */
async function requirePresentPassword(db: Store, user: { id: string; email: string }, { present, now }: { present: string; now: Date }) {
  const attempt = await countAttempt(db, user.email, now);
  if (!attempt.allowed) throw new Trouble("not_allowed_now", lockedSentence(attempt.until, now));
  const account = await db.account.findFirst({ where: { userId: user.id, providerId: "credential" } });
  const fits = account?.password ? await verifyPassword({ hash: account.password, password: present }) : false;
  if (!fits)
    throw new Trouble("not_valid", "The present password is wrong: try again.", { present: "The present password is wrong: try again." });
  await db.signInAttempt.deleteMany({ where: { email: user.email } });
}

async function tell(tx: Db, actor: Actor, { what, now, after }: { what: string; now: Date; after: object }): Promise<void> {
  const subjectId = actor.userId ?? "";
  await appendRecord(tx, [
    { organisationId: actor.organisationId, at: now, actor: recordName(actor), what, subjectKind: "user", subjectId, after },
  ]);
}

/** Takes a passkey away. Throws `Trouble` when it is not the actor's own. */
export async function removePasskey(db: Store, actor: Actor, { id, now }: { id: string; now: Date }): Promise<void> {
  const userId = requireUser(actor);
  await db.$transaction(async (tx) => {
    const { count } = await tx.passkey.deleteMany({ where: { id, userId } });
    if (count === 0) throw new Trouble("not_found", "This passkey is not there any more.");
    await tell(tx, actor, { what: "removed own passkey", now, after: {} });
  });
}

/** Records that the actor set up, or gave up, the second step of signing in. */
export async function tellSecondStep(db: Store, actor: Actor, { on, now }: { on: boolean; now: Date }): Promise<void> {
  const what = on ? "set up own second step" : "gave up own second step";
  await db.$transaction((tx) => tell(tx, actor, { what, now, after: {} }));
}
