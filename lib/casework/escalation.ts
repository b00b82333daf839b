import type { SignalWord } from "@/lib/watch/screening-result";

/** Who may be told of an overdue finding. */
export interface Concerned {
  readonly ownerId: string | null;
  readonly watcherIds: readonly string[];
  /** Those who run the site. */
  readonly managerIds: readonly string[];
}

/**
 * Whom an overdue finding is told to: its owner and watchers always; those who run the site too when it is a DANGER or a WARNING, or
 * when nobody owns it. Each once.
 */
export function toldOfOverdue(word: SignalWord, { ownerId, watcherIds, managerIds }: Concerned): string[] {
  const upwards = word === "DANGER" || word === "WARNING" || ownerId === null;
  return [...new Set([...(ownerId === null ? [] : [ownerId]), ...watcherIds, ...(upwards ? managerIds : [])])];
}
