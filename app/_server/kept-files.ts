import type { KeptFileLine } from "@/app/_ui/kept-files";
import type { Actor } from "@/lib/access/actor";
import { attachmentsOf, type Subject } from "@/lib/documents/attachments";
import type { Db } from "@/lib/store/client";

/** The files kept with a thing as a page shows them: names are people's as they are today. */
export async function keptFileLines(db: Db, actor: Actor, subject: Subject): Promise<KeptFileLine[]> {
  const files = await attachmentsOf(db, actor, subject);
  const ids = [...new Set(files.flatMap(({ byUserId }) => (byUserId === null ? [] : [byUserId])))];
  const people = await db.user.findMany({ where: { id: { in: ids } }, select: { id: true, name: true } });
  const names = new Map(people.map(({ id, name }) => [id, name]));
  return files.map(({ id, fileName, mediaType, note, byUserId, source, at, withdrawnWhy, withdrawnAt }) => ({
    id,
    fileName,
    mediaType,
    note,
    words: `${(byUserId && names.get(byUserId)) ?? source}, ${at.toISOString().slice(0, 10)}`,
    withdrawnWhy: withdrawnAt === null ? null : (withdrawnWhy ?? ""),
  }));
}
