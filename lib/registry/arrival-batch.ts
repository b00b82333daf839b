import type { ArrivedRows, ToldRow } from "./arrival-rows";

/** Where a batch comes from: a key's device, or the broker. `name` tells sources of one site apart and keeps their order. */
export interface ArrivalSource {
  readonly name: string;
  readonly keyId: string | null;
  readonly organisationId: string;
  readonly siteId: string;
}

/** A batch that was read and waits to be kept. */
export interface ArrivalBatch {
  readonly source: ArrivalSource;
  /** The sender's name for it; null when it gave none. */
  readonly batchId: string | null;
  /** SHA-256 of its bytes, hexadecimal. */
  readonly bodyHash: string;
  readonly rows: ArrivedRows;
  readonly at: Date;
  /** Proof, checked in the same transaction, that the sender of the batch still has its turn. */
  readonly lease?: { readonly name: string; readonly owner: string; readonly fence: number };
}

/** What a sender is told. rows = accepted + repeated + setAside; of rows set aside the first ones are named. */
export interface ArrivalAnswer {
  readonly batch: string | null;
  readonly rows: number;
  /** Kept now. */
  readonly accepted: number;
  /** Kept before, or twice in the batch: nothing to do. */
  readonly repeated: number;
  readonly setAside: number;
  readonly firstSetAside: readonly ToldRow[];
  /** Rows that are taken, but whose tag moved nothing, each counted under accepted or repeated. */
  readonly tagsSetAside: number;
  readonly firstTagsSetAside: readonly (ToldRow & { readonly tag: string })[];
}

/** A source of a key's device. */
export function keySource(key: { readonly id: string; readonly organisationId: string; readonly siteId: string }): ArrivalSource {
  return { name: `key ${key.id}`, keyId: key.id, organisationId: key.organisationId, siteId: key.siteId };
}

/** The broker as a source of one site. */
export function brokerSource(site: { readonly id: string; readonly organisationId: string }): ArrivalSource {
  return { name: `broker ${site.id}`, keyId: null, organisationId: site.organisationId, siteId: site.id };
}

/** Whether a load is one of a live source, whose tags move only appliances of its own site. */
export function isLiveSource(load: string): boolean {
  return /^(key|broker) /.test(load);
}
