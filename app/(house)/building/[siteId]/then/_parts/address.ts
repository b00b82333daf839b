import type { ThenQuery } from "@/lib/registry/site-then";
import type { ThenTableName } from "@/lib/registry/site-then-rows";

type Changes = { readonly [K in keyof ThenQuery]?: ThenQuery[K] | undefined };

function queryText(query: Changes): string {
  const entries = Object.entries(query).filter(([, value]) => value !== undefined);
  return new URLSearchParams(entries.map(([name, value]) => [name, String(value)])).toString();
}

/** The page's address with some parts changed; `undefined` takes a part off. The list begins anew unless its page is what changes. */
export function thenHref(siteId: string, query: ThenQuery | Changes, changes: Changes): string {
  const text = queryText({ ...query, page: undefined, ...changes });
  return `/building/${siteId}/then${text === "" ? "" : `?${text}`}`;
}

/** The address of one table as a file. */
export function thenFileHref(
  siteId: string,
  day: string,
  { query, table }: { readonly query: ThenQuery; readonly table: ThenTableName },
): string {
  return `/building/${siteId}/then/export?${queryText({ ...query, page: undefined, day })}&table=${table}`;
}
