import type { Db } from "@/lib/store/client";
import type { Actor, Role } from "./actor";
import { requirePermission } from "./permissions";

/** A person of the organisation as the list shows them. */
export interface Person {
  readonly membershipId: string;
  readonly userId: string;
  readonly name: string;
  readonly email: string;
  readonly role: Role;
  readonly sites: "all" | readonly { readonly id: string; readonly name: string }[];
  readonly since: Date;
  readonly endedAt: Date | null;
  readonly lastSignInAt: Date | null;
}

const withPerson = {
  user: {
    select: { id: true, name: true, email: true, sessions: { orderBy: { createdAt: "desc" }, take: 1, select: { createdAt: true } } },
  },
  sites: { select: { site: { select: { id: true, name: true } } } },
} as const;

/** Everyone of the organisation, those who left last; a site-limited administrator sees the people of those sites. */
export async function findPeople(db: Db, actor: Actor): Promise<Person[]> {
  requirePermission(actor, "manage people");
  const rows = await db.membership.findMany({
    where: { organisationId: actor.organisationId },
    include: withPerson,
    orderBy: [{ createdAt: "asc" }, { id: "asc" }],
  });
  const people = rows.map((row) => ({
    membershipId: row.id,
    userId: row.user.id,
    name: row.user.name,
    email: row.user.email,
    role: row.role,
    sites: row.allSites ? ("all" as const) : row.sites.map(({ site }) => site),
    since: row.createdAt,
    endedAt: row.endedAt,
    lastSignInAt: row.user.sessions[0]?.createdAt ?? null,
  }));
  const own = actor.siteIds;
  const visible = own === "all" ? people : people.filter(({ sites }) => sites !== "all" && sites.every(({ id }) => own.includes(id)));
  return visible.sort((a, b) => Number(a.endedAt !== null) - Number(b.endedAt !== null));
}
