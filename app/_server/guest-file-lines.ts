import type { KeptFileLine } from "@/app/_ui/kept-files";
import type { LinkKind } from "@/lib/access/secret-link";
import { filesForGuest } from "@/lib/documents/guest-files";
import type { LinkWork } from "./link";

/** The files that the bearer of a link may see, without the names of those who brought them. */
export async function guestFileLines({ db, now }: LinkWork, kind: LinkKind, token: string): Promise<KeptFileLine[]> {
  const files = await filesForGuest(db, { kind, token, now });
  return files.map(({ id, fileName, mediaType, note, at }) => ({
    id,
    fileName,
    mediaType,
    note,
    words: at.toISOString().slice(0, 10),
    withdrawnWhy: null,
  }));
}
