/** What came of comparing a corrected notice again. */
export interface Compared {
  readonly added: number;
  readonly changed: number;
  readonly removed: number;
  readonly reopened: number;
}

const counted = (count: number, words: string) => (count === 0 ? [] : [`${count} ${words}`]);

/** In one sentence. */
export function comparedWords({ added, changed, removed, reopened }: Compared): string {
  const parts = [
    ...counted(added, "newly found"),
    ...counted(changed, "graded anew"),
    ...counted(removed, "no longer raised"),
    ...counted(reopened, "to be decided again"),
  ];
  return `Kept, and compared again: ${parts.length === 0 ? "nothing changed among the appliances" : parts.join(", ")}.`;
}
