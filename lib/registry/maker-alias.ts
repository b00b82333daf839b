import { z } from "zod";
import { type Actor, recordName } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { makerKey } from "@/lib/identity/maker";
import { type AliasLink, touchedMakers } from "@/lib/identity/maker-alias";
import { type CrossCheckAccount, checkAgain } from "@/lib/matching/cross-check.run";
import type { Db, Store } from "@/lib/store/client";
import { wasMade } from "@/lib/store/form-id-queries";
import { newId } from "@/lib/store/ids";
import {
  countByMaker,
  findAliases,
  findAppliancesOfMakers,
  findNoticesOfMakers,
  insertAlias,
  type StoredAlias,
  withdrawStoredAlias,
} from "@/lib/store/maker-alias-queries";
import { findPersonNames } from "@/lib/store/place-name-queries";
import { appendRecord, holdRecord } from "@/lib/store/record";

const maker = z
  .string()
  .trim()
  .max(100, "Write at most 100 characters.")
  .refine((name) => makerKey(name).length >= 2, "Write the maker's name as it stands on appliances or in notices.");
const said = (what: string) => z.string().trim().min(1, what).max(1000, "Write at most 1,000 characters.");

/** What an administrator hands over for a new alias. */
export const aliasInput = z.object({
  name: maker,
  otherName: maker,
  relation: z.enum(["same", "belongs"], "Choose how the two names belong together."),
  origin: said("Say where it is known from, such as a letter of the maker or a plate."),
  reason: said("Say why it is added."),
});
export type AliasInput = z.output<typeof aliasInput>;

interface Touched {
  readonly noticeIds: readonly string[];
  readonly applianceIds: readonly string[];
}

/** The notices and appliances of the makers that a change of the link can touch. */
async function findTouched(db: Db, organisationId: string, keys: readonly string[]): Promise<Touched> {
  const [noticeIds, applianceIds] = await Promise.all([
    findNoticesOfMakers(db, organisationId, keys),
    findAppliancesOfMakers(db, organisationId, keys),
  ]);
  return { noticeIds, applianceIds };
}

/** Compares again what a changed link can touch: appliances of the makers it joins with notices of the same makers. */
async function compareTouched(db: Store, actor: Actor, keys: readonly string[], now: Date): Promise<CrossCheckAccount> {
  const only = await findTouched(db, actor.organisationId, keys);
  return checkAgain(db, actor, { now, only, because: "Which makers belong together was changed." });
}

function refuse(sentence: string, field: string): never {
  throw new Trouble("not_valid", sentence, { [field]: sentence });
}

function refuseWhatIsThere(standing: readonly StoredAlias[], link: AliasLink): void {
  const [nameKey, otherKey] = [makerKey(link.name), makerKey(link.otherName)];
  if (nameKey === otherKey)
    refuse("These two are read as one name already: an alias joins names that are written differently.", "otherName");
  const same = standing.find((alias) => [alias.nameKey, alias.otherKey].sort().join(" ") === [nameKey, otherKey].sort().join(" "));
  if (same) refuse(`“${same.name}” and “${same.otherName}” are joined already: withdraw that alias first if it is wrong.`, "otherName");
}

/**
 * Joins two makers' names, with where it is known from and why, and compares what it touches again at once. Kept until it is withdrawn.
 * A form that is sent again joins nothing more; what it touches is compared again, should the first sending not have come so far.
 * Permission: `edit maker aliases`.
 */
export async function addAlias(
  db: Store,
  actor: Actor,
  input: AliasInput & { readonly formId?: string | undefined; readonly now: Date },
): Promise<{ id: string; compared: CrossCheckAccount }> {
  requirePermission(actor, "edit maker aliases");
  const { now, formId, ...given } = input;
  const alias = aliasInput.parse(given);
  const { organisationId, userId } = actor;
  const aliasId = formId ?? newId();
  const keys = await db.$transaction(async (tx) => {
    await holdRecord(tx, organisationId);
    const standing = await findAliases(tx, organisationId);
    if (await wasMade(tx, "alias", { id: formId, organisationId })) return [makerKey(alias.name), makerKey(alias.otherName)];
    refuseWhatIsThere(standing, alias);
    const row = {
      ...alias,
      id: aliasId,
      organisationId,
      nameKey: makerKey(alias.name),
      otherKey: makerKey(alias.otherName),
      byUserId: userId,
      at: now,
    };
    await insertAlias(tx, row);
    await appendRecord(tx, [
      {
        organisationId,
        at: now,
        actor: recordName(actor),
        what: "joined two makers' names",
        subjectKind: "maker alias",
        subjectId: aliasId,
        after: alias,
      },
    ]);
    return touchedMakers(alias, standing, [...standing, alias]);
  });
  return { id: aliasId, compared: await compareTouched(db, actor, keys, now) };
}

/** Withdraws an alias; it is kept with who and why, and what it touched is compared again at once. Permission: `edit maker aliases`. */
export async function withdrawAlias(
  db: Store,
  actor: Actor,
  input: { readonly aliasId: string; readonly reason: string; readonly now: Date },
): Promise<{ compared: CrossCheckAccount }> {
  requirePermission(actor, "edit maker aliases");
  const reason = input.reason.trim();
  if (reason === "" || reason.length > 1000) refuse("Say in at most 1,000 characters why it is withdrawn.", "reason");
  const { organisationId, userId } = actor;
  const { aliasId, now } = input;
  const keys = await db.$transaction(async (tx) => {
    await holdRecord(tx, organisationId);
    const standing = await findAliases(tx, organisationId);
    const alias = standing.find(({ id }) => id === aliasId);
    if (!alias) throw new Trouble("not_found", "This alias does not stand any more: somebody withdrew it.");
    await withdrawStoredAlias(tx, aliasId, { userId, at: now, why: reason });
    const { name, otherName, relation } = alias;
    await appendRecord(tx, [
      {
        ...{
          organisationId,
          at: now,
          actor: recordName(actor),
          what: "parted two makers' names",
          subjectKind: "maker alias",
          subjectId: aliasId,
        },
        before: { name, otherName, relation },
        after: { reason },
      },
    ]);
    return touchedMakers(
      alias,
      standing,
      standing.filter(({ id }) => id !== aliasId),
    );
  });
  return { compared: await compareTouched(db, actor, keys, now) };
}

/** An alias as a page lists it. */
export interface ShownAlias extends Omit<StoredAlias, "organisationId" | "byUserId" | "withdrawnByUserId"> {
  readonly by: string;
  readonly withdrawnBy: string | null;
  /** How many appliances bear either name. */
  readonly appliances: number;
}

/** The aliases that stand and those withdrawn. Permission: `see recalls`. */
export async function listAliases(db: Db, actor: Actor): Promise<{ standing: ShownAlias[]; withdrawn: ShownAlias[] }> {
  requirePermission(actor, "see recalls");
  const { organisationId } = actor;
  const rows = await findAliases(db, organisationId, { withdrawn: true });
  const ids = rows.flatMap(({ byUserId, withdrawnByUserId }) => [byUserId, withdrawnByUserId]);
  const keys = rows.flatMap(({ nameKey, otherKey }) => [nameKey, otherKey]);
  const [names, counts] = await Promise.all([findPersonNames(db, ids), countByMaker(db, organisationId, [...new Set(keys)])]);
  const nameOf = (id: string | null) => (id === null ? "the command line" : (names.get(id) ?? "someone who left"));
  const shown = rows.map(
    ({ byUserId, withdrawnByUserId, organisationId: _, ...row }): ShownAlias => ({
      ...row,
      by: nameOf(byUserId),
      withdrawnBy: row.withdrawnAt === null ? null : nameOf(withdrawnByUserId),
      appliances: (counts.get(row.nameKey) ?? 0) + (counts.get(row.otherKey) ?? 0),
    }),
  );
  return {
    standing: shown.filter(({ withdrawnAt }) => withdrawnAt === null),
    withdrawn: shown.filter(({ withdrawnAt }) => withdrawnAt !== null),
  };
}
