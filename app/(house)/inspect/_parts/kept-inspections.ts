"use client";

/** A photo as it waits on the phone. */
export interface KeptPhoto {
  readonly file: Blob;
  readonly name: string;
  readonly note: string;
  /** Why the server would not take it; null until it said so. */
  readonly problem: string | null;
}

/** Whose inspection of what: what one person typed is not sent in the name of another who signs in on the same phone. */
export interface KeptSubject {
  readonly userId: string;
  readonly applianceId: string;
  readonly tag: string;
  /** The inspection that this one corrects. */
  readonly correctsId: string | null;
}

/** An inspection as the phone keeps it, from the first thing typed until the server has it and its files. */
export interface KeptInspection extends KeptSubject {
  readonly key: string;
  /** `files refused`: the inspection is recorded, the files that are left here were not taken. */
  readonly state: "typing" | "waiting" | "refused" | "files refused";
  /** The state of the form's fields. */
  readonly values: object;
  /** What is sent; null until it is signed. */
  readonly body: object | null;
  readonly photos: readonly KeptPhoto[];
  readonly signature: Blob | null;
  /** The recorded inspection, once the server has it. */
  readonly recordedId: string | null;
  /** Why it waits or was refused. */
  readonly problem: string | null;
}

/** One form an appliance, and one a corrected inspection. */
export const keyOf = ({ userId, applianceId, correctsId }: KeptSubject): string => [userId, applianceId, correctsId ?? ""].join(":");

/** Where its form is. */
export function formAddress({ applianceId, correctsId }: Pick<KeptSubject, "applianceId" | "correctsId">): string {
  return correctsId === null ? `/inspect/${applianceId}` : `/inspect/${applianceId}?corrects=${correctsId}`;
}

const table = "inspections";
let opened: Promise<IDBDatabase> | null = null;

function open(): Promise<IDBDatabase> {
  opened ??= new Promise<IDBDatabase>((done, failed) => {
    const asked = indexedDB.open("platewarden-inspections", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(table, { keyPath: "key" });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error ?? new Error("The phone's storage cannot be opened."));
  }).catch((error: unknown) => {
    opened = null;
    throw error;
  });
  return opened;
}

/** One request in a transaction of its own; resolves once it is on disk. Transactions run in the order in which they are asked for. */
async function ask<T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const database = await open();
  return new Promise<T>((done, failed) => {
    const transaction = database.transaction(table, mode, { durability: "strict" });
    const asked = work(transaction.objectStore(table));
    transaction.oncomplete = () => done(asked.result);
    transaction.onabort = () => failed(transaction.error ?? new Error("The phone's storage is full."));
  });
}

export const readKept = (key: string): Promise<KeptInspection | undefined> =>
  ask("readonly", (store) => store.get(key) as IDBRequest<KeptInspection | undefined>);

export async function keep(kept: KeptInspection): Promise<void> {
  await ask("readwrite", (store) => store.put(kept));
}

export async function forget(key: string): Promise<void> {
  await ask("readwrite", (store) => store.delete(key));
}

export async function allKept(userId: string): Promise<KeptInspection[]> {
  const all = await ask("readonly", (store) => store.getAll() as IDBRequest<KeptInspection[]>);
  return all.filter((kept) => kept.userId === userId);
}
