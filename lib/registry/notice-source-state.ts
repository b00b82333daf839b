/** What decides whether a source can be relied on. */
export interface CheckedSource {
  readonly isOn: boolean;
  readonly everyHours: number;
  readonly checkedAt: Date | null;
  readonly createdAt: Date;
  readonly problem: string | null;
  readonly heldCheckId: string | null;
}

/**
 * How a source stands. `new`: added a moment ago and not yet looked at. `current`: the publisher's list is the one we have.
 * `held`: a list waits for a person. `troubled`: the last check failed. `late`: twice its interval has passed without a check.
 * `paused`: nobody looks.
 */
export type SourceState = "new" | "current" | "held" | "troubled" | "late" | "paused";

const hourMs = 3_600_000;

export function sourceState(source: CheckedSource, now: Date): SourceState {
  if (source.heldCheckId !== null) return "held";
  if (!source.isOn) return "paused";
  if (source.problem !== null) return "troubled";
  const since = source.checkedAt ?? source.createdAt;
  if (now.getTime() - since.getTime() > 2 * source.everyHours * hourMs) return "late";
  return source.checkedAt === null ? "new" : "current";
}

/** Whether someone should be told that the list we have may not be the publisher's. */
export function isUnchecked(state: SourceState): boolean {
  return state !== "current" && state !== "new";
}

const firstRetryMinutes = 15;
const mostRetryHours = 24;

/**
 * When to look again after `failures` failed checks in a row: 15 minutes, then twice as long each time, but no later than the
 * source's own interval or a day; a publisher who asks for more time gets it, up to a day.
 */
export function retryAt(
  now: Date,
  { everyHours, failures, retryAfterSeconds }: { everyHours: number; failures: number; retryAfterSeconds: number | null },
): Date {
  const minutes = Math.min(firstRetryMinutes * 2 ** Math.min(failures - 1, 20), Math.min(everyHours, mostRetryHours) * 60);
  const asked = Math.min(retryAfterSeconds ?? 0, mostRetryHours * 3600);
  return new Date(now.getTime() + Math.max(minutes * 60, asked) * 1000);
}

export function nextDue(now: Date, everyHours: number): Date {
  return new Date(now.getTime() + everyHours * hourMs);
}
