import { type ReadingsQuery, resultOrder } from "@/lib/registry/readings-overview";

export const readingsPath = "/readings";

/** The page's address with some parts changed; `undefined` takes a part off. */
export function readingsHref(
  query: ReadingsQuery,
  changes: { [K in keyof ReadingsQuery]?: ReadingsQuery[K] | undefined } = {},
  part = "",
): string {
  const entries = Object.entries({ ...query, ...changes }).filter(([, value]) => value !== undefined && value !== "");
  const text = new URLSearchParams(entries.map(([name, value]) => [name, String(value)])).toString();
  return `${readingsPath}${text === "" ? "" : `?${text}`}${part}`;
}

/** The address that sorts by a column, or the other way round where it is sorted by it already. */
export function sortHref(query: ReadingsQuery, sort: NonNullable<ReadingsQuery["sort"]>): string {
  const now = resultOrder(query);
  const order = now.sort === sort && now.order === "desc" ? "asc" : undefined;
  return readingsHref(query, { sort, order, page: undefined }, "#results");
}

export function sortedAs(query: ReadingsQuery, sort: string): "ascending" | "descending" | undefined {
  const now = resultOrder(query);
  if (now.sort !== sort) return undefined;
  return now.order === "asc" ? "ascending" : "descending";
}
