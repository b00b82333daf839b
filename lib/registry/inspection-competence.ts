import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import type { Paper } from "@/lib/casework/inspection-papers";
import type { Db, Store } from "@/lib/store/client";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import { type Competence, endCompetence, findCompetence, findCompetences, insertCompetence } from "@/lib/store/instrument-queries";
import { appendRecord } from "@/lib/store/record";

export const competenceForm = z.object({
  formId: z.uuid().optional(),
  userId: z.string().min(1, "Choose the person.").max(100),
  what: z.string().trim().min(1, "Write what it is: a training, a licence, an authorisation.").max(200),
  issuedBy: z.string().trim().min(1, "Write who issued it.").max(200),
  validUntil: z.preprocess(
    (given) => (given === "" ? null : given),
    z.iso
      .date({ error: "Give the last day, or nothing where it has none." })
      .transform((text) => new Date(`${text}T00:00:00Z`))
      .nullable()
      .default(null),
  ),
});

/** A competence with the name of whose it is. */
export interface NamedCompetence extends Competence {
  readonly name: string;
}

/** Competences on record. Permission: `see inspections`. */
export async function listCompetences(db: Db, actor: Actor): Promise<NamedCompetence[]> {
  requirePermission(actor, "see inspections");
  const rows = await findCompetences(db, actor.organisationId);
  const names = new Map((await listMembers(db, actor)).map(({ id, name }) => [id, name]));
  return rows.map((row) => ({ ...row, name: names.get(row.userId) ?? "a former member" }));
}

/** Members of the organisation, by name. Permission: `see inspections`. */
export async function listMembers(db: Db, actor: Actor): Promise<{ id: string; name: string }[]> {
  requirePermission(actor, "see inspections");
  const where = { organisationId: actor.organisationId, endedAt: null };
  const rows = await db.membership.findMany({ where, select: { user: { select: { id: true, name: true } } } });
  return rows.map(({ user }) => user).sort((a, b) => a.name.localeCompare(b.name, "en"));
}

/** A competence as the paper that an inspection asks for. */
export function competencePaper({ what, validUntil }: Pick<Competence, "what" | "validUntil">): Paper {
  return { words: what, validUntil };
}

function entry(actor: Actor, userId: string, at: Date) {
  return { organisationId: actor.organisationId, at, actor: recordName(actor), subjectKind: "person", subjectId: userId };
}

/** Enters a competence of a member. Permission: `keep inspection means`. Throws `Trouble`. */
export async function addCompetence(
  db: Store,
  actor: Actor,
  { now, formId, ...given }: z.output<typeof competenceForm> & { readonly now: Date },
): Promise<{ id: string }> {
  requirePermission(actor, "keep inspection means");
  const id = formId ?? newId();
  const { organisationId } = actor;
  await db.$transaction(async (tx) => {
    const member = await tx.membership.findFirst({ where: { organisationId, userId: given.userId, endedAt: null } });
    if (await wasMade(tx, "competence", { id: formId, organisationId })) return;
    if (!member) throw new Trouble("not_valid", "This person is not a member here.", { userId: "Choose a member." });
    await insertCompetence(tx, { id, organisationId, ...given, createdAt: now });
    await appendRecord(tx, [{ ...entry(actor, given.userId, now), what: "competence entered", after: { id, ...given } }]);
  });
  return { id };
}

/** Ends a competence with the reason; inspections made under it keep it. Permission: `keep inspection means`. Throws `Trouble`. */
export async function withdrawCompetence(
  db: Store,
  actor: Actor,
  { id, why, now }: { readonly id: string; readonly why: string; readonly now: Date },
): Promise<void> {
  requirePermission(actor, "keep inspection means");
  if (why.trim() === "") throw new Trouble("not_valid", "Say why it ends.", { why: "Say why it ends." });
  await db.$transaction(async (tx) => {
    const competence = await findCompetence(tx, actor.organisationId, id);
    if (!competence || !(await endCompetence(tx, id, { endedAt: now, endedWhy: why.trim() })))
      throw new Trouble("not_found", "This competence is not on record any more.");
    const { what, issuedBy, validUntil } = competence;
    const end = { what: "competence ended", before: { id, what, issuedBy, validUntil }, after: { why: why.trim() } };
    await appendRecord(tx, [{ ...entry(actor, competence.userId, now), ...end }]);
  });
}
