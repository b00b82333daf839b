import type { ApplianceQuery } from "@/lib/registry/appliance-list";
import { firstOrder, orderOf } from "@/lib/registry/appliance-list";

export const listPath = "/appliances";

/** A query string of what is set, in a fixed order of names. */
export function queryText(query: Partial<ApplianceQuery>): string {
  const entries = Object.entries(query).filter(([, value]) => value !== undefined && value !== "");
  return new URLSearchParams(entries.map(([name, value]) => [name, String(value)])).toString();
}

/** The list's address with some parts changed; `undefined` takes a part off. The page begins anew unless it is what changes. */
export function listHref(query: ApplianceQuery, changes: { [K in keyof ApplianceQuery]?: ApplianceQuery[K] | undefined }): string {
  const text = queryText({ ...query, page: undefined, ...changes });
  return text === "" ? listPath : `${listPath}?${text}`;
}

/** The address that sorts by a column: anew in the column's own first order, or the other way round. */
export function sortHref(query: ApplianceQuery, sort: NonNullable<ApplianceQuery["sort"]>): string {
  const now = orderOf(query);
  const flipped = now.descending ? "asc" : "desc";
  const order = now.sort === sort ? flipped : firstOrder[sort];
  return listHref(query, { sort, order: order === firstOrder[sort] ? undefined : order });
}

/** How a column is sorted now, for its head. */
export function sortedAs(query: ApplianceQuery, sort: NonNullable<ApplianceQuery["sort"]>): "ascending" | "descending" | undefined {
  const now = orderOf(query);
  if (now.sort !== sort) return undefined;
  return now.descending ? "descending" : "ascending";
}
