import type { ReactNode } from "react";
import { figures } from "@/app/_ui/account";
import { ButtonLink } from "@/app/_ui/button";
import { PlainSection } from "@/app/_ui/side-section";
import type { SiteThen, ThenPage, ThenQuery } from "@/lib/registry/site-then";
import type { ThenTableName } from "@/lib/registry/site-then-rows";
import { thenFileHref } from "./address";

/** What every table of the page is given. */
export interface Shown {
  readonly page: ThenPage;
  readonly known: SiteThen;
  readonly query: ThenQuery;
}

/** A table with its count and its file; one sentence where it is empty. */
export function TableSection(props: Shown & { table: ThenTableName; head: string; count: number; empty: string; children: ReactNode }) {
  const { page, query, table, head, count, empty, children } = props;
  const file = thenFileHref(page.site.id, page.day, { query, table });
  return (
    <PlainSection
      head={`${head}, ${figures(count)}`}
      id={table}
      aside={
        <ButtonLink href={file} prefetch={false}>
          CSV
        </ButtonLink>
      }
    >
      {count === 0 ? <p className="soft">{empty}</p> : children}
    </PlainSection>
  );
}
