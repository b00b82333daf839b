import type { OpenWords } from "@/lib/registry/place-building";

const names = { DANGER: "danger", WARNING: "warning", CAUTION: "caution", NOTICE: "notice" } as const;

/** `4 dangers, 2 cautions`; null when nothing is open. */
export function openWordsLine(open: OpenWords): string | null {
  const parts = (Object.keys(names) as (keyof OpenWords)[]).flatMap((word) => {
    const count = open[word];
    return count === 0 ? [] : [`${count} ${names[word]}${count === 1 ? "" : "s"}`];
  });
  return parts.length === 0 ? null : parts.join(", ");
}
