import { type ReadNoticeList, recordsSetAside } from "@/lib/notices/notice-list";

/** The version of a list that was taken in last. */
export interface LastVersion {
  readonly format: string | null;
  readonly notices: number | null;
}

/** A list with fewer than this share of the notices of the last version waits for a person. */
export const leastShare = 0.5;

/**
 * Why a fetched list must not replace the one we have before a person has looked at it, in one sentence; null where nothing speaks
 * against it. A list that is an issue of a longer one may be as short as it likes.
 */
export function heldReason(list: ReadNoticeList, last: LastVersion): string | null {
  const count = list.notices.length;
  const unread = list.setAside.filter(({ records }) => records === undefined).length;
  if (count === 0) return `It holds no notice about anything that is plugged in; ${recordsSetAside(list.setAside)} records were set aside.`;
  if (unread > count) return `More of its records could not be read (${unread}) than could (${count}).`;
  if (last.format !== null && last.format !== list.format)
    return `It now has another format (${list.format} instead of ${last.format}), so every notice of it would be new.`;
  if (!list.isExtract && last.notices !== null && count < last.notices * leastShare)
    return `It holds ${count} notices, and the version before held ${last.notices}: fewer than half.`;
  return null;
}
