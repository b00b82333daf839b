import { type Actor, recordName } from "@/lib/access/actor";
import { requireSeen, type SeenValues } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Db, Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { findSource, findSourceAt, insertSource, type NoticeSource, updateSource } from "@/lib/store/notice-source-queries";
import { appendRecord } from "@/lib/store/record";
import { checkAddress, ownHosts, ownHostsSetting } from "./list-address";
import type { SourceForm } from "./notice-source-form";

export interface SourceAt {
  readonly id: string;
  readonly now: Date;
}

/** A source that is there, of the actor's organisation. */
export async function getSource(db: Db, actor: Actor, id: string): Promise<NoticeSource> {
  const source = await findSource(db, actor.organisationId, id);
  if (!source) throw new Trouble("not_found", "This list is not there any more: go back to the lists.");
  return source;
}

/** The address in its normal form; a `Trouble` at the field where it cannot be asked. */
function requireListUrl(text: string): string {
  const checked = checkAddress(text, ownHosts(process.env[ownHostsSetting]));
  if (!checked.ok) throw new Trouble("not_valid", checked.problem, { url: checked.problem });
  checked.url.hash = "";
  return checked.url.href;
}

async function requireFreeUrl(tx: Db, actor: Actor, url: string, id: string | null): Promise<void> {
  const other = await findSourceAt(tx, actor.organisationId, url);
  if (other === null || other.id === id) return;
  const sentence = `"${other.name}" is fetched from this address already.`;
  throw new Trouble("already_there", sentence, { url: sentence });
}

const shown = ({ name, url, everyHours, isOn }: Pick<NoticeSource, "name" | "url" | "everyHours" | "isOn">) => ({
  name,
  url,
  everyHours,
  isOn,
});

/** What the form of a source can change, by its fields. */
export function sourceSeen({ name, url, everyHours }: SourceForm): SeenValues {
  return { name, url, everyHours };
}

async function record(
  tx: Db,
  actor: Actor,
  change: { what: string; id: string; now: Date; before?: object; after?: object },
): Promise<void> {
  const { id, now, ...rest } = change;
  await appendRecord(tx, [
    { organisationId: actor.organisationId, at: now, actor: recordName(actor), subjectKind: "recall list source", subjectId: id, ...rest },
  ]);
}

/** Adds a list that is fetched on a schedule; it is due at once. Permission: `load notices`. */
export async function addSource(db: Store, actor: Actor, { now, ...form }: SourceForm & { readonly now: Date }): Promise<{ id: string }> {
  requirePermission(actor, "load notices");
  const { organisationId } = actor;
  const added = { ...form, url: requireListUrl(form.url) };
  const id = newId();
  await db.$transaction(async (tx) => {
    await requireFreeUrl(tx, actor, added.url, null);
    await insertSource(tx, { id, organisationId, ...added, nextDueAt: now, createdAt: now });
    await record(tx, actor, { what: "recall list source added", id, now, after: { ...added, isOn: true } });
  });
  return { id };
}

/**
 * Changes a source. Under another address the marks of the last version no longer hold, so the list is fetched whole and at once; what
 * is known of the last version stays, so that a much shorter list is still held.
 */
export async function changeSource(
  db: Store,
  actor: Actor,
  { id, now, seen, ...form }: SourceForm & SourceAt & { readonly seen?: string | undefined },
): Promise<void> {
  requirePermission(actor, "load notices");
  const changed = { ...form, url: requireListUrl(form.url) };
  await db.$transaction(async (tx) => {
    const before = await getSource(tx, actor, id);
    requireSeen(seen, sourceSeen(before), { what: "this list" });
    await requireFreeUrl(tx, actor, changed.url, id);
    const elsewhere = before.url === changed.url ? {} : { etag: null, lastModified: null, problem: null, failures: 0 };
    const sooner = before.url !== changed.url || before.everyHours > changed.everyHours;
    await updateSource(tx, id, { ...changed, ...elsewhere, ...(sooner ? { nextDueAt: now } : {}) });
    await record(tx, actor, {
      what: "recall list source changed",
      id,
      now,
      before: shown(before),
      after: { ...shown(before), ...changed },
    });
  });
}

/** Pauses a source, or lets it go on, due at once. Permission: `load notices`. */
export async function switchSource(db: Store, actor: Actor, { id, isOn, now }: SourceAt & { readonly isOn: boolean }): Promise<void> {
  requirePermission(actor, "load notices");
  await db.$transaction(async (tx) => {
    const before = await getSource(tx, actor, id);
    if (before.isOn === isOn) return;
    await updateSource(tx, id, isOn ? { isOn, nextDueAt: now } : { isOn });
    const what = isOn ? "recall list source resumed" : "recall list source paused";
    await record(tx, actor, { what, id, now, before: shown(before), after: { ...shown(before), isOn } });
  });
}

/** Takes a source off the lists. Its notices and the account of its checks stay. Permission: `load notices`. */
export async function removeSource(db: Store, actor: Actor, { id, now }: SourceAt): Promise<void> {
  requirePermission(actor, "load notices");
  await db.$transaction(async (tx) => {
    const before = await getSource(tx, actor, id);
    await updateSource(tx, id, { removedAt: now });
    await record(tx, actor, { what: "recall list source removed", id, now, before: shown(before) });
  });
}
