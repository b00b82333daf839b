import { type FindingQuery, findingOrder } from "@/lib/registry/finding-list";

export const findingsPath = "/findings";

/** The list's address with some parts changed; `undefined` takes a part off. The page begins anew unless it is what changes. */
export function findingsHref(query: FindingQuery, changes: { [K in keyof FindingQuery]?: FindingQuery[K] | undefined } = {}): string {
  const entries = Object.entries({ ...query, page: undefined, ...changes }).filter(([, value]) => value !== undefined && value !== "");
  const text = new URLSearchParams(entries.map(([name, value]) => [name, String(value)])).toString();
  return text === "" ? findingsPath : `${findingsPath}?${text}`;
}

/** The address that sorts by a column, or the other way round where it is sorted by it already. */
export function sortHref(query: FindingQuery, sort: NonNullable<FindingQuery["sort"]>): string {
  const now = findingOrder(query);
  const isFlipped = now.sort === sort && now.order === "asc";
  return findingsHref(query, { sort, order: isFlipped ? "desc" : undefined });
}

export function sortedAs(query: FindingQuery, sort: string): "ascending" | "descending" | undefined {
  const now = findingOrder(query);
  if (now.sort !== sort) return undefined;
  return now.order === "asc" ? "ascending" : "descending";
}
