import { prismaAdapter } from "better-auth/adapters/prisma";
import { dialectOf, type Store } from "./client";

/** The sign-in library's way to its tables (User, Session, Account, Verification, RateLimit), over the same safe client. */
export function signInTables(db: Store) {
  return prismaAdapter(db, { provider: dialectOf(db), transaction: false });
}
