import type { Grade } from "@/lib/matching/candidate";
import type { Db } from "@/lib/store/client";
import { findLabelAnswers } from "@/lib/store/label-answer-queries";
import { findPersonNames } from "@/lib/store/place-name-queries";

/** An answer as pages show it: what, from whom, when, and what it led to. */
export interface ShownAnswer {
  readonly id: string;
  readonly noticeId: string;
  readonly field: string;
  readonly value: string;
  readonly before: string | null;
  readonly source: "staff" | "occupant";
  readonly by: string;
  readonly at: Date;
  readonly gradeBefore: Grade;
  readonly gradeAfter: Grade | null;
  readonly written: boolean;
}

/** What was answered about an appliance, the latest first. Permission and scope are the caller's. */
export async function shownAnswers(db: Db, organisationId: string, applianceId: string): Promise<ShownAnswer[]> {
  const rows = await findLabelAnswers(db, organisationId, applianceId);
  const names = await findPersonNames(
    db,
    rows.map(({ byUserId }) => byUserId),
  );
  return rows.map(({ id, noticeId, field, value, before, source, byUserId, at, gradeBefore, gradeAfter, written }) => ({
    ...{ id, noticeId, field, value, before, at, written },
    source: source === "occupant" ? "occupant" : "staff",
    by: byUserId === null ? (source === "occupant" ? "the occupant" : "the command line") : (names.get(byUserId) ?? "someone who left"),
    gradeBefore: gradeBefore as Grade,
    gradeAfter: gradeAfter as Grade | null,
  }));
}
