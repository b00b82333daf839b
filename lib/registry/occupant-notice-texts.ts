import { type Actor, recordName } from "@/lib/access/actor";
import { requireSeen, type SeenValues } from "@/lib/access/changed-meanwhile";
import { requirePermission } from "@/lib/access/permissions";
import { Trouble } from "@/lib/access/trouble";
import { type EditablePart, editableParts, type OccupantLanguage, occupantTexts, partProblem } from "@/lib/casework/occupant-texts";
import type { Db, Store } from "@/lib/store/client";
import { ownTexts, saveOwnText } from "@/lib/store/occupant-queries";
import { appendRecord } from "@/lib/store/record";

/** The wording of each part that may be changed: the organisation's own, or the usual one. */
export type PartTexts = Readonly<Record<EditablePart, { readonly text: string; readonly isOwn: boolean }>>;

/** The parts of the notice in a language as an organisation words them. Permission is the caller's. */
export async function partTexts(db: Db, organisationId: string, language: OccupantLanguage): Promise<PartTexts> {
  const own = await ownTexts(db, organisationId, language);
  const entries = editableParts.map((part) => [part, { text: own[part] ?? occupantTexts[language][part], isOwn: own[part] !== undefined }]);
  return Object.fromEntries(entries) as PartTexts;
}

/** What the form of the words can change, by its fields. */
export function partsSeen(parts: PartTexts): SeenValues {
  return Object.fromEntries(editableParts.map((part) => [part, parts[part].text]));
}

/**
 * Keeps an organisation's own wording of the notice's parts; an empty or usual one goes back to the usual wording. A wording with an
 * unknown field is refused, and nothing is kept. Permission: `edit occupant texts`.
 */
export async function saveParts(
  db: Store,
  actor: Actor,
  given: {
    readonly language: OccupantLanguage;
    readonly parts: Readonly<Record<EditablePart, string>>;
    readonly seen?: string | undefined;
    readonly now: Date;
  },
): Promise<void> {
  requirePermission(actor, "edit occupant texts");
  const { language, parts, seen, now } = given;
  const fields: Record<string, string> = {};
  for (const part of editableParts) {
    const problem = partProblem(part, parts[part].trim());
    if (problem !== null) fields[part] = problem;
  }
  const first = Object.values(fields)[0];
  if (first !== undefined) throw new Trouble("not_valid", first, fields);
  const { organisationId } = actor;
  await db.$transaction(async (tx) => {
    requireSeen(seen, partsSeen(await partTexts(tx, organisationId, language)), { what: "these words" });
    const before = await ownTexts(tx, organisationId, language);
    for (const part of editableParts) {
      const said = parts[part].replace(/\r\n?/g, "\n").trim();
      const text = said === occupantTexts[language][part] ? "" : said;
      if ((before[part] ?? "") === text) continue;
      await saveOwnText(tx, { organisationId, language, part, text, now });
      const entry = { organisationId, at: now, actor: recordName(actor), what: "words to occupants changed", subjectKind: "occupant text" };
      const change = { before: { text: before[part] ?? null }, after: { text: text === "" ? null : text } };
      await appendRecord(tx, [{ ...entry, subjectId: `${language} ${part}`, ...change }]);
    }
  });
}
