import { type ApiKey, findApiKey, findApiKeys, insertApiKey, revokeStoredKey } from "@/lib/store/api-key-queries";
import { findSite } from "@/lib/store/arrival-queries";
import type { Db, Store } from "@/lib/store/client";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { appendRecord, holdRecord } from "@/lib/store/record";
import { type Actor, recordName } from "./actor";
import { bearerToken, isKeySecret, keyHash, keyToken, newKeySecret, readKeyToken } from "./api-key";
import { requirePermission } from "./permissions";
import { Trouble } from "./trouble";

/** A key as it is shown: never its secret. */
export type ShownKey = Omit<ApiKey, "hash">;

const longestName = 80;
const madeAlready =
  "This key was made by the first sending; only that answer showed it. If you did not see it, revoke the key below, then make another.";

function entry(actor: Actor, at: Date, what: string, key: Pick<ApiKey, "id" | "siteId" | "name">) {
  const { organisationId } = actor;
  const after = { siteId: key.siteId, name: key.name };
  return { organisationId, at, actor: recordName(actor), what, subjectKind: "API key", subjectId: key.id, after };
}

/** A form for a key; the key has the form's id. */
export interface KeyForm {
  readonly siteId: string;
  readonly name: string;
  readonly formId?: string | undefined;
  readonly now: Date;
}

/**
 * Makes a key for one site. The token is returned here and never again: only its hash is kept. A form that is sent again makes no second
 * key and gets no token, neither the first one, which nobody has any more, nor a new one for the same key: a replayed request must not
 * get a key that works, nor put out one that is in use. It is told so instead. Permission: `manage API keys`.
 */
export async function createApiKey(
  db: Store,
  actor: Actor,
  { siteId, name, formId, now }: KeyForm,
): Promise<{ id: string; token: string }> {
  requirePermission(actor, "manage API keys", siteId);
  const { organisationId, userId } = actor;
  const title = name.trim().slice(0, longestName);
  if (title === "") throw new Trouble("not_valid", "Give the key a name that says what sends with it.", { name: "Give it a name." });
  if (!(await findSite(db, organisationId, siteId)))
    throw new Trouble("not_found", "There is no such site: choose one of your sites.", { siteId: "Choose a site." });
  const secret = newKeySecret();
  const key = {
    id: formId ?? newId(),
    organisationId,
    siteId,
    name: title,
    hash: keyHash(secret),
    hint: secret.slice(-4),
    byUserId: userId,
  };
  await db.$transaction(async (tx) => {
    await holdRecord(tx, organisationId);
    if (await wasMade(tx, "key", { id: formId, organisationId })) throw new Trouble("already_there", madeAlready);
    await insertApiKey(tx, { ...key, createdAt: now });
    await appendRecord(tx, [entry(actor, now, "made API key", key)]);
  });
  return { id: key.id, token: keyToken({ id: key.id, secret }) };
}

/** Revokes a key for good; what it sent stays. Permission: `manage API keys`. */
export async function revokeApiKey(db: Store, actor: Actor, { id, now }: { readonly id: string; readonly now: Date }): Promise<void> {
  requirePermission(actor, "manage API keys");
  const key = await findApiKey(db, id);
  if (key?.organisationId !== actor.organisationId) throw new Trouble("not_found", "There is no such key.");
  requirePermission(actor, "manage API keys", key.siteId);
  await db.$transaction(async (tx) => {
    if (await revokeStoredKey(tx, id, now)) await appendRecord(tx, [entry(actor, now, "revoked API key", key)]);
  });
}

/** The keys of the actor's sites. Permission: `manage API keys`. */
export async function listApiKeys(db: Db, actor: Actor): Promise<ShownKey[]> {
  requirePermission(actor, "manage API keys");
  const { organisationId, siteIds } = actor;
  const keys = await findApiKeys(db, { organisationId, siteIds: siteIds === "all" ? null : siteIds });
  return keys.map(({ hash: _, ...shown }) => shown);
}

/** The key that an `Authorization` header proves; null when it proves none that is in use. */
export async function keyOfHeader(db: Db, header: string | null): Promise<ShownKey | null> {
  const token = readKeyToken(bearerToken(header) ?? "");
  if (token === null) return null;
  const key = await findApiKey(db, token.id);
  // An unknown id is compared too, so that the time tells nothing about which ids there are.
  const isRight = isKeySecret(token.secret, key?.hash ?? keyHash(""));
  if (key === null || !isRight || key.revokedAt !== null) return null;
  const { hash: _, ...shown } = key;
  return shown;
}
