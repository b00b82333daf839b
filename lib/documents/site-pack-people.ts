import type { SiteAsOf } from "@/lib/registry/as-of";
import { both, byTexts, type PackNames, type PackSection } from "./site-pack-section";

/** Who had an account that reaches the site. The one table that names people. */
export function peopleSection({ at, site, names: { members } }: SiteAsOf, names: PackNames): PackSection {
  const reaching = members.filter(
    ({ createdAt, endedAt, allSites, sites }) =>
      createdAt <= at && (endedAt === null || endedAt > at) && (allSites || sites.some(({ siteId }) => siteId === site.id)),
  );
  return {
    key: "people",
    head: "Who may act",
    knownAsOf: "Accounts of the day; names, roles and sites as they are now.",
    note: "Names stand in this table alone: leave it out where the pack goes to somebody who need not know them.",
    empty: "Nobody had an account that reaches this site.",
    columns: [both("name", "Name", 200), both("role", "Role", 100), both("reach", "Reach", 140), both("since", "Since", 44, "figure")],
    rows: reaching
      .map(({ user, role, allSites, createdAt }) => [
        user.name,
        role,
        allSites ? "all sites" : "this and perhaps other sites",
        names.day(createdAt),
      ])
      .sort(
        byTexts(
          (row) => row[1] ?? "",
          (row) => row[0] ?? "",
          (row) => row[3] ?? "",
        ),
      ),
  };
}
