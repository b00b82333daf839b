import { passkey } from "@better-auth/passkey";
import { betterAuth } from "better-auth";
import { APIError, createAuthMiddleware } from "better-auth/api";
import { twoFactor } from "better-auth/plugins/two-factor";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { signInTables } from "@/lib/store/sign-in-tables";
import { findActor } from "./find-actor";
import { clearAttempts, countAttempt, lockedSentence, lockedStart } from "./lockout";
import { longestPassword, shortestPassword } from "./password-rule";

/** The request header that carries the address of the other end. Only our own edge sets it; what a client sends is dropped. */
export const peerAddressHeader = "x-platewarden-peer";
export const noRoleSentence = "This account has no role here any more: ask an administrator.";
export const otherSiteSentence = "This request came from another site and was refused.";
export const wrongSentence = "E-mail address or password is wrong: try again.";

export interface SignInSettings {
  readonly secret: string;
  /** The address people use, such as `https://plates.linden.example`; null when it is whatever host the request names. */
  readonly publicUrl: string | null;
  /** Origins a request may come from; given the request, because without a public address it is the request's own host. */
  readonly trustedOrigins: (request?: Request) => string[];
  readonly clock: () => Date;
}

const signInPath = "/sign-in/email";

/** Attempts from one address in a minute, beside the lock of each account. Common practice, no source. */
const perAddress = { window: 60, max: 20 };

/** What signing in needs, over our own tables: e-mail and password, no public sign-up, sessions in the database. */
export function makeSignIn(db: Store, settings: SignInSettings) {
  const { secret, publicUrl, trustedOrigins, clock } = settings;
  return betterAuth({
    database: signInTables(db),
    secret,
    baseURL: publicUrl ?? "http://localhost",
    basePath: "/api/auth",
    trustedOrigins: async (request) => trustedOrigins(request),
    telemetry: { enabled: false },
    // Wrong passwords and refusals are everyday and were told to the person; only what is really wrong is logged.
    logger: { level: "error", log: (_level, message, ...rest: unknown[]) => void (isRefusal(message) || console.error(message, ...rest)) },
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: shortestPassword,
      maxPasswordLength: longestPassword,
      revokeSessionsOnPasswordReset: true,
    },
    session: { expiresIn: 7 * 24 * 3600, updateAge: 24 * 3600 },
    rateLimit: { enabled: true, storage: "database", window: 60, max: 120, customRules: { [signInPath]: perAddress } },
    advanced: {
      cookiePrefix: "platewarden",
      useSecureCookies: publicUrl?.startsWith("https://") ?? false,
      ipAddress: { ipAddressHeaders: [peerAddressHeader] },
      database: { generateId: () => newId() },
    },
    plugins: [secondStep(), passkeys()],
    databaseHooks: {
      session: {
        create: {
          before: async (session) => {
            if (!(await findActor(db, session.userId))) throw new APIError("FORBIDDEN", { message: noRoleSentence });
          },
        },
      },
    },
    hooks: {
      before: createAuthMiddleware(async (ctx) => {
        requireOwnOrigin(ctx.request, trustedOrigins);
        if (ctx.path !== signInPath) return;
        const email = emailOf(ctx.body);
        const now = clock();
        const attempt = email === null ? null : await countAttempt(db, email, now);
        if (attempt && !attempt.allowed) throw new APIError("TOO_MANY_REQUESTS", { message: lockedSentence(attempt.until, now) });
      }),
      after: createAuthMiddleware(async (ctx) => {
        if (ctx.path === signInPath && ctx.context.newSession) await clearAttempts(db, ctx.context.newSession.user.email);
      }),
    },
  });
}

/** What authenticators show as the name of the account's keeper. */
const issuer = "Platewarden";
export const notVerifiedSentence = "The passkey was used without its owner's fingerprint, face or code: set one up on the device.";

/** A code of an authenticator (RFC 6238) after the password, or one of ten codes kept for when it is lost. */
function secondStep() {
  return twoFactor({ issuer, totpOptions: { digits: 6, period: 30 }, backupCodeOptions: { amount: 10, length: 10 } });
}

/** A passkey stands for password and second step at once, so the device must have verified its owner each time. */
function passkeys() {
  return passkey({
    rpName: issuer,
    authenticatorSelection: { residentKey: "required", userVerification: "required" },
    authentication: {
      afterVerification: async ({ verification }) => {
        if (!verification.authenticationInfo.userVerified) throw new APIError("UNAUTHORIZED", { message: notVerifiedSentence });
      },
    },
  });
}

export type SignIn = ReturnType<typeof makeSignIn>;

function isRefusal(message: string): boolean {
  return message === otherSiteSentence || message === noRoleSentence || message === notVerifiedSentence || message.startsWith(lockedStart);
}

/** The library looks at the origin only when a cookie comes along; signing in from another site's form is refused as well. */
function requireOwnOrigin(request: Request | undefined, trustedOrigins: SignInSettings["trustedOrigins"]): void {
  if (!request || request.method === "GET") return;
  const origin = request.headers.get("origin");
  if (origin === null || !trustedOrigins(request).includes(origin)) {
    throw new APIError("FORBIDDEN", { message: otherSiteSentence });
  }
}

function emailOf(body: unknown): string | null {
  const email = (body as { email?: unknown } | undefined)?.email;
  return typeof email === "string" ? email : null;
}
