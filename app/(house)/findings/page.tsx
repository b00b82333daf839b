import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { mayDo } from "@/lib/access/permissions";
import { findingQuery, findingsAPage, listFindings, mySites } from "@/lib/registry/finding-list";
import { findingsHref, findingsPath } from "./_parts/address";
import { FindingFilters } from "./_parts/finding-filters";
import { FindingTable } from "./_parts/finding-table";
import styles from "./_parts/findings.module.css";

export const metadata: Metadata = { title: "Findings" };

export default async function FindingsPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor, now } = await requirePage("see findings");
  const query = findingQuery.parse(await searchParams);
  const [list, sites] = await Promise.all([forPage(listFindings(db, actor, { query, now })), mySites(db, actor)]);
  const { rows, total, page, pages, counts } = list;
  const isFiltered = findingsHref(query) !== findingsPath;
  const first = (page - 1) * findingsAPage + 1;
  return (
    <>
      <PageHead
        title="Findings"
        lead={
          <>
            <b>{figures(total)}</b> {isFiltered ? "match." : "are not closed."} Each is one cause at one thing, whatever how often it was
            seen.
          </>
        }
        cells={[
          { label: "Danger", value: figures(counts.get("DANGER") ?? 0) },
          { label: "Warning", value: figures(counts.get("WARNING") ?? 0) },
          { label: "Order", value: "strongest word first" },
        ]}
      />
      <FindingFilters query={query} sites={sites} counts={counts} />
      {rows.length === 0 ? (
        <EmptyState
          head="No finding matches"
          action={isFiltered && <ButtonLink href={findingsPath}>Show all that are not closed</ButtonLink>}
        >
          {isFiltered
            ? "Take a filter off to see more."
            : "Nothing waits. Findings open by themselves from loaded logs and confirmed recalls, or by hand. That none is open is no proof that nothing is wrong."}
        </EmptyState>
      ) : (
        <>
          <FindingTable rows={rows} query={query} now={now} />
          <Pager page={page} pages={pages} href={(n) => findingsHref(query, { page: n === 1 ? undefined : n })}>
            {figures(first)} to {figures(first + rows.length - 1)} of {figures(total)}
          </Pager>
        </>
      )}
      <div className={styles.foot}>
        <Acts>
          {mayDo(actor, "work findings") && <ButtonLink href="/findings/new">Open a finding by hand</ButtonLink>}
          {total > 0 && (
            <a href={findingsHref(query).replace(findingsPath, "/findings/export")} download>
              Export all {figures(total)} as CSV
            </a>
          )}
        </Acts>
      </div>
    </>
  );
}
