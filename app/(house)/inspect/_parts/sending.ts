"use client";

import { allKept, forget, type KeptInspection, type KeptPhoto, keep } from "./kept-inspections";

/** What the server said of a recorded inspection. */
export interface Recorded {
  readonly id: string;
  readonly result: string;
  readonly findingId: string | null;
  readonly nextDueAt: string | null;
  readonly reasons: readonly string[];
  /** The server had it before: what was sent first stands. */
  readonly again: boolean;
}

/** How sending one went. */
export type Sent =
  | { readonly how: "recorded"; readonly key: string; readonly recorded: Recorded; readonly refusedFiles: readonly KeptPhoto[] }
  | { readonly how: "waiting" | "refused"; readonly key: string; readonly why: string };

/** Forms and the list of what waits tell each other here: `kept` when one was put down to be sent, `sent` with a `Sent`. */
export const outbox = typeof window === "undefined" ? null : new EventTarget();

const answerMs = 60_000;

/** Answers that another try can change: signed out, busy, too many at once, a broken server. */
const passing = (status: number) => status === 401 || status === 408 || status === 429 || status >= 500;

type Tried<T> =
  | { readonly how: "taken"; readonly answer: T }
  | { readonly how: "waiting"; readonly why: string }
  | { readonly how: "refused"; readonly why: string };

/** Sends once. Without an answer, or with one that can change, it waits; any other no is the server's word. */
async function post<T>(address: string, init: RequestInit): Promise<Tried<T>> {
  let answer: Response;
  try {
    answer = await fetch(address, { method: "POST", ...init, signal: AbortSignal.timeout(answerMs) });
  } catch {
    return { how: "waiting", why: "There is no connection." };
  }
  const told = (await answer.json().catch(() => null)) as (T & { problem?: string }) | null;
  if (answer.ok && told !== null) return { how: "taken", answer: told };
  const why = told?.problem ?? `The server answered ${answer.status}.`;
  return { how: answer.ok || passing(answer.status) ? "waiting" : "refused", why };
}

function sendRecord({ body }: KeptInspection): Promise<Tried<Recorded>> {
  return post("/api/v1/inspections", { headers: { "content-type": "application/json" }, body: JSON.stringify(body) });
}

function sendFile(inspectionId: string, { file, name, note }: KeptPhoto): Promise<Tried<object>> {
  const form = new FormData();
  for (const [field, value] of Object.entries({ kind: "inspection", subject: inspectionId, note, back: "" })) form.set(field, value);
  form.set("file", file, name);
  return post("/api/v1/uploads/attachments", { body: form });
}

/** Sends the files of a recorded inspection. What arrived leaves the phone; what was refused is left with the reason. */
async function sendFiles(kept: KeptInspection, inspectionId: string): Promise<{ left: KeptInspection; waits: string | null }> {
  const drawn = kept.signature ? [{ file: kept.signature, name: "signature.png", note: "Signature", problem: null }] : [];
  let left: KeptInspection = { ...kept, photos: [...kept.photos, ...drawn], signature: null };
  for (const photo of left.photos) {
    const tried = await sendFile(inspectionId, photo);
    if (tried.how === "waiting") return { left, waits: `It is recorded; a photo of it waits. ${tried.why}` };
    const refused = tried.how === "refused" ? [{ ...photo, problem: tried.why }] : [];
    left = { ...left, photos: left.photos.flatMap((one) => (one === photo ? refused : [one])) };
    await keep(left);
  }
  return { left, waits: null };
}

async function setDown(kept: KeptInspection, how: "waiting" | "refused", why: string): Promise<Sent> {
  await keep({ ...kept, state: how, problem: why });
  return { how, key: kept.key, why };
}

/** Sends one and its files. What arrived once is not doubled: the form has an id of its own, and equal files are kept once. */
async function sendOne(given: KeptInspection): Promise<Sent> {
  const tried = await sendRecord(given);
  if (tried.how !== "taken") return setDown(given, tried.how, tried.why);
  const recorded = tried.answer;
  const kept = { ...given, recordedId: recorded.id, problem: null };
  await keep(kept);
  const { left, waits } = await sendFiles(kept, recorded.id);
  if (waits !== null) return setDown(left, "waiting", waits);
  // Refused files stay apart from the form, so that the appliance can be inspected again meanwhile.
  const key = `files:${recorded.id}`;
  if (left.photos.length > 0) await keep({ ...left, key, state: "files refused" });
  if (left.photos.length === 0 || given.key !== key) await forget(given.key);
  return { how: "recorded", key: given.key, recorded, refusedFiles: left.photos };
}

let sending: Promise<void> | null = null;

/** Sends everything of a person that waits, one after the other; a second call joins the first. */
export function sendAll(userId: string): Promise<void> {
  sending ??= (async () => {
    for (const kept of await allKept(userId)) {
      if (kept.state !== "waiting") continue;
      outbox?.dispatchEvent(new CustomEvent<Sent>("sent", { detail: await sendOne(kept) }));
    }
  })().finally(() => {
    sending = null;
  });
  return sending;
}

/** Puts files that were refused down to be sent once more. */
export const sendAgain = (kept: KeptInspection): Promise<void> => keep({ ...kept, state: "waiting", problem: null });
