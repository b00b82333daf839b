import type { Actor } from "@/lib/access/actor";
import type { ImportCounts } from "@/lib/registry/import-account";
import type { Store } from "@/lib/store/client";

/** What every load gets: the bytes, their name and length, the time, and whom to tell of progress. */
export interface LoadInput {
  readonly source: AsyncIterable<Uint8Array | string>;
  readonly fileName: string;
  readonly byteLength: number | null;
  readonly now: Date;
  readonly onProgress?: (progress: LoadProgress) => void;
}

export interface LoadProgress {
  readonly counts?: ImportCounts;
  readonly bytesDone?: number;
  readonly stage?: string;
  readonly done?: number;
}

export interface LoadAccount extends ImportCounts {
  readonly id: string;
  readonly message: string | null;
}

export interface Loader {
  readonly kind: string;
  readonly load: (db: Store, actor: Actor, input: LoadInput) => Promise<LoadAccount>;
}

/** One loader a kind; each file is loaded only when it is asked for. */
const loaders: Readonly<Record<string, () => Promise<Loader["load"]>>> = {
  labels: async () => (await import("@/lib/registry/labels-import")).loadLabels,
  places: async () => (await import("@/lib/registry/places-import")).loadPlaces,
  notices: async () => {
    const { loadNotices } = await import("@/lib/notices/notices.run");
    return async (db, actor, input) => (await loadNotices(db, actor, input)).run;
  },
  log: async () => {
    const { loadLog } = await import("@/lib/watch/log.run");
    return async (db, actor, input) => (await loadLog(db, actor, input)).run;
  },
};

export const loadKinds: readonly string[] = Object.keys(loaders);

/** The loader of a kind; null when there is no such kind. */
export async function loaderOf(kind: string): Promise<Loader | null> {
  const open = Object.hasOwn(loaders, kind) ? loaders[kind] : undefined;
  return open ? { kind, load: await open() } : null;
}
