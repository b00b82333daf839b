import type { Db } from "./client";
import { newId } from "./ids";

export interface NewLabelAnswer {
  readonly organisationId: string;
  readonly applianceId: string;
  readonly noticeId: string;
  readonly field: string;
  readonly value: string;
  readonly before: string | null;
  readonly source: string;
  readonly byUserId: string | null;
  readonly at: Date;
  readonly gradeBefore: string;
  readonly written: boolean;
}

export async function insertLabelAnswer(tx: Db, answer: NewLabelAnswer): Promise<string> {
  const id = newId();
  await tx.labelAnswer.create({ data: { id, ...answer } });
  return id;
}

/** Writes down which grade an answer led to; null where the pair is no longer raised. */
export async function setGradeAfter(db: Db, id: string, gradeAfter: string | null): Promise<void> {
  await db.labelAnswer.update({ where: { id }, data: { gradeAfter } });
}

/** What was answered about an appliance, the latest first. */
export function findLabelAnswers(db: Db, organisationId: string, applianceId: string, take = 50) {
  return db.labelAnswer.findMany({ where: { organisationId, applianceId }, orderBy: [{ at: "desc" }, { id: "desc" }], take });
}
