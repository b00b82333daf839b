import type { RemedyQuery } from "@/lib/registry/remedies";
import type { RemedyTableName } from "@/lib/registry/remedy-rows";

type Changes = { readonly [K in keyof RemedyQuery]?: RemedyQuery[K] | undefined };

function queryText(query: Readonly<Record<string, string | number | undefined>>): string {
  const entries = Object.entries(query).filter(([, value]) => value !== undefined && value !== "");
  return new URLSearchParams(entries.map(([name, value]) => [name, String(value)])).toString();
}

/** The page's address with some parts changed; the list begins anew unless its page is what changes. */
export function remedyHref(query: Changes, changes: Changes): string {
  const text = queryText({ ...query, page: undefined, ...changes });
  return text === "" ? "/recalls/remedies" : `/recalls/remedies?${text}`;
}

/** The address of one table as a file. */
export function fileHref(query: Changes, table: RemedyTableName): string {
  return `/recalls/remedies/export?${queryText({ ...query, page: undefined, table })}`;
}
