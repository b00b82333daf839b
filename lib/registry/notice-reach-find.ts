import { reachOf } from "@/lib/matching/notice-reach";
import type { Db } from "@/lib/store/client";
import { findMakerKeys, findReachedAppliances } from "@/lib/store/reach-queries";
import type { IndexedNotices } from "./recall-list-index";

/** Ids of the appliances that some notices can touch: in their reach, or candidates of theirs; `null` when that is the whole registry. */
export async function findTouchedAppliances(
  db: Db,
  organisationId: string,
  { index, aliases, hashes }: IndexedNotices,
): Promise<string[] | null> {
  const { mayBeListing, mayBeUnlisted, isEverything, ...reach } = reachOf(index.notices, aliases);
  if (isEverything) return null;
  const makers = await findMakerKeys(db, organisationId);
  const asked = {
    ...reach,
    listingMakers: makers.filter(mayBeListing),
    unlistedMakers: mayBeUnlisted === null ? null : makers.filter(mayBeUnlisted),
  };
  return findReachedAppliances(db, organisationId, asked, [...hashes.keys()]);
}
