import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { FilterChips } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { mayDo } from "@/lib/access/permissions";
import { type ApplianceQuery, applianceQuery, listAppliances, listChoices, rowsPerPage } from "@/lib/registry/appliance-list";
import { listHref, listPath, queryText } from "./_parts/address";
import { ApplianceTable } from "./_parts/appliance-table";
import { ChoiceForm } from "./_parts/choice";
import { filterChips } from "./_parts/filter-words";
import { ListFilters } from "./_parts/list-filters";
import { NothingFound } from "./_parts/nothing-found";
import styles from "./appliances.module.css";

export const metadata: Metadata = { title: "Appliances" };

export default async function AppliancesPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor, now } = await requirePage("see appliances");
  const query = applianceQuery.parse(await searchParams);
  const [list, choices] = await Promise.all([listAppliances(db, actor, { query, now }), listChoices(db, actor, { query, now })]);
  const { rows, found, page, pages, counts } = list;
  const chips = filterChips(query, {
    site: choices.sites.find((site) => site.id === query.site)?.name ?? null,
    unit: choices.unit?.name ?? null,
  });
  const first = (page - 1) * rowsPerPage + 1;
  const mayEdit = mayDo(actor, "edit appliances");
  return (
    <>
      <PageHead
        title="Appliances"
        lead={<Lead found={found} tagged={counts.tagged} />}
        cells={[
          { label: "Tagged", value: figures(counts.tagged) },
          { label: "Plate read", value: figures(counts.plateRead) },
          { label: "Seen in 24 h", value: figures(counts.seenLately) },
          { label: "Absent", value: figures(counts.absent) },
        ]}
      />
      <div className={styles.filters}>
        <ListFilters query={query} choices={choices} />
      </div>
      <FilterChips chips={chips} clearHref={listPath} />
      {rows.length === 0 ? (
        <Nothing db={db} actor={actor} query={query} tagged={counts.tagged} chips={chips} mayEdit={mayEdit} />
      ) : (
        <ChoiceForm action={`${listPath}/export`} fixed={fixedFields(query)}>
          <ApplianceTable rows={rows} query={query} now={now} severalSites={choices.sites.length > 1} />
        </ChoiceForm>
      )}
      {found > 0 && (
        <Pager page={page} pages={pages} href={(n) => listHref(query, { page: n === 1 ? undefined : n })}>
          {figures(first)} to {figures(first + rows.length - 1)} of {figures(found)}
        </Pager>
      )}
      <Acts>
        {mayEdit && <ButtonLink href={`${listPath}/new`}>Add an appliance</ButtonLink>}
        {found > 0 && (
          <a href={`${listPath}/export?${queryText({ ...query, page: undefined })}`} download>
            Export all {figures(found)} as CSV
          </a>
        )}
      </Acts>
    </>
  );
}

function Lead({ found, tagged }: { found: number; tagged: number }) {
  return (
    <>
      <b>{figures(found)}</b> of {figures(tagged)} match. Drawn against one limit line: what crosses it draws more than it may.
    </>
  );
}

/** The list's state, for the export of the chosen rows. */
function fixedFields(query: ApplianceQuery): [string, string][] {
  return [...new URLSearchParams(queryText({ ...query, page: undefined }))];
}

function Nothing(props: Parameters<typeof NothingFound>[0] & { tagged: number; mayEdit: boolean }) {
  const { tagged, mayEdit, ...found } = props;
  if (tagged > 0 || found.chips.length > 0) return <NothingFound {...found} />;
  return (
    <EmptyState
      head="No appliance is tagged yet"
      action={mayEdit ? <ButtonLink href="/bring-in">Bring in a labels file</ButtonLink> : undefined}
    >
      Bring in a spreadsheet of labels, or add the first appliance by hand.
    </EmptyState>
  );
}
