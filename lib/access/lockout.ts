import type { Store } from "@/lib/store/client";

/** Five guesses in a quarter of an hour, then a quarter of an hour's rest. NIST SP 800-63B-4 section 3.2.2 asks for a limit of
 * at most 100 in a row and leaves the number to us; five and fifteen minutes are common practice, no source. */
export const lockout = { failures: 5, windowMs: 15 * 60_000, lockMs: 15 * 60_000 } as const;

/** Attempts of accounts nobody tried for a day are forgotten, so that guessed names do not pile up. */
const forgetAfterMs = 24 * 60 * 60_000;

export type Attempt = { readonly allowed: true } | { readonly allowed: false; readonly until: Date };

/** The e-mail address as accounts keep it. */
export function accountKey(email: string): string {
  return email.trim().toLowerCase();
}

/**
 * Counts an attempt BEFORE the password is looked at, so that guesses sent at once cannot all slip through; a success takes the
 * count back. An unknown address is counted like a known one, so that the answer does not tell which accounts exist.
 */
export async function countAttempt(db: Store, email: string, now: Date): Promise<Attempt> {
  const key = accountKey(email);
  return db.$transaction(async (tx) => {
    await tx.signInAttempt.deleteMany({ where: { firstAt: { lt: new Date(now.getTime() - forgetAfterMs) } } });
    // One statement first: on a server it takes the row's lock, so that two attempts cannot read the same count.
    const row = await tx.signInAttempt.upsert({
      where: { email: key },
      create: { email: key, failures: 1, firstAt: now },
      update: { failures: { increment: 1 } },
    });
    if (row.lockedUntil && row.lockedUntil > now) return { allowed: false, until: row.lockedUntil };
    const startsAnew = row.lockedUntil !== null || now.getTime() - row.firstAt.getTime() > lockout.windowMs;
    if (startsAnew) {
      await tx.signInAttempt.update({ where: { email: key }, data: { failures: 1, firstAt: now, lockedUntil: null } });
      return { allowed: true };
    }
    if (row.failures <= lockout.failures) return { allowed: true };
    const until = new Date(now.getTime() + lockout.lockMs);
    await tx.signInAttempt.update({ where: { email: key }, data: { lockedUntil: until } });
    return { allowed: false, until };
  });
}

/** Forgets the attempts of an account that signed in. */
export async function clearAttempts(db: Store, email: string): Promise<void> {
  await db.signInAttempt.deleteMany({ where: { email: accountKey(email) } });
}

export const lockedStart = "Too many attempts for this account";

/** The one sentence for a locked account. */
export function lockedSentence(until: Date, now: Date): string {
  const minutes = Math.max(1, Math.ceil((until.getTime() - now.getTime()) / 60_000));
  return `${lockedStart}: wait ${minutes} ${minutes === 1 ? "minute" : "minutes"}, then try again.`;
}
