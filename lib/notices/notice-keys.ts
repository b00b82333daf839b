import type { Notice } from "./notice";

/** What a reader knows before the record's key is given. */
export type UnkeyedNotice = Omit<Notice, "key">;

/** Gives each record its key inside the list: its number, with `#2`, `#3` ... where that number has occurred before. */
export function keyNotices(notices: readonly UnkeyedNotice[]): Notice[] {
  const seen = new Map<string, number>();
  return notices.map((notice) => {
    const times = (seen.get(notice.number) ?? 0) + 1;
    seen.set(notice.number, times);
    return { key: times === 1 ? notice.number : `${notice.number}#${times}`, ...notice };
  });
}

/** The number as printed, else `id:` and the record id, else the title: a record without any is not a notice (null). */
export function numberOf(printed: string, recordId: string, title: string): string | null {
  if (printed !== "") return printed;
  if (recordId !== "") return `id:${recordId}`;
  return title === "" ? null : `title:${title.slice(0, 120)}`;
}
