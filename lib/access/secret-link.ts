import { createHash, randomBytes } from "node:crypto";
import type { Db } from "@/lib/store/client";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { findSecretLink, insertSecretLink, type SecretLink } from "@/lib/store/secret-link-queries";
import { Trouble } from "./trouble";

/** What a link lets its bearer do. */
export type LinkKind = "invitation" | "password_reset" | "occupant" | "contractor" | "outside_checker";

export interface LinkDraft {
  /** Of the form that asks for the link, which has its id. */
  readonly formId?: string | undefined;
  readonly organisationId: string;
  readonly kind: LinkKind;
  readonly subject: { readonly kind: string; readonly id: string };
  readonly payload: object;
  readonly days: number;
  readonly byUserId: string | null;
  readonly now: Date;
}

const dayMs = 86_400_000;
const madeAlready =
  "This link was made by the first sending; only that answer had it. If it was neither shown nor mailed, send the form again for another.";

/** 256 random bits, as they stand in the link. */
function makeToken(): string {
  return randomBytes(32).toString("base64url");
}

/** What is kept of a token: its SHA-256. A token of 256 random bits needs no slow hash. */
export function tokenHash(token: string): string {
  return createHash("sha256").update(token).digest("hex");
}

/**
 * Makes a link and returns its secret part, which is kept nowhere: it is shown or mailed now, or never. A form that is sent again gets
 * none and throws `Trouble`: to a replayed request a second secret would be a way in that nobody handed over. Call it under
 * `holdRecord` where a form has an id, and before anything else is written.
 */
export async function issueLink(tx: Db, draft: LinkDraft): Promise<string> {
  if (await wasMade(tx, "link", { id: draft.formId, organisationId: draft.organisationId }))
    throw new Trouble("already_there", madeAlready);
  const token = makeToken();
  const { organisationId, kind, subject, payload, byUserId, now } = draft;
  await insertSecretLink(tx, {
    id: draft.formId ?? newId(),
    organisationId,
    kind,
    subjectKind: subject.kind,
    subjectId: subject.id,
    tokenHash: tokenHash(token),
    payload,
    createdAt: now,
    expiresAt: new Date(now.getTime() + draft.days * dayMs),
    byUserId,
  });
  return token;
}

/** The states of a link, the first that fits counts. */
export type LinkState = "withdrawn" | "used" | "run out" | "open";

export function linkState(link: Pick<SecretLink, "withdrawnAt" | "usedAt" | "expiresAt">, now: Date): LinkState {
  if (link.withdrawnAt !== null) return "withdrawn";
  if (link.usedAt !== null) return "used";
  return link.expiresAt <= now ? "run out" : "open";
}

const closedSentences: Readonly<Record<Exclude<LinkState, "open">, string>> = {
  withdrawn: "This link was withdrawn: ask whoever sent it.",
  used: "This link was used already: ask for another if you need it.",
  "run out": "This link has run out: ask whoever sent it for another.",
};

/** The open link that a token stands for. Throws `Trouble` for a token that is none of ours, of another kind, or not open any more. */
export async function openLink(db: Db, kind: LinkKind, { token, now }: { token: string; now: Date }): Promise<SecretLink> {
  const link = /^[\w-]{43}$/.test(token) ? await findSecretLink(db, tokenHash(token)) : null;
  if (!link || link.kind !== kind) throw new Trouble("not_found", "This link is not one of ours: copy it whole, or ask for another.");
  const state = linkState(link, now);
  if (state !== "open") throw new Trouble("not_allowed_now", closedSentences[state]);
  return link;
}
