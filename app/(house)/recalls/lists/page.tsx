import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { KeepFresh } from "@/app/(house)/bring-in/keep-fresh";
import { mayDo } from "@/lib/access/permissions";
import { checksAPage, listChecks, listSources, type ShownSource } from "@/lib/registry/notice-source-view";
import { CheckTable } from "./_parts/check-table";
import { HeldList } from "./_parts/held-list";
import { SourceTable } from "./_parts/source-table";
import { timeWords } from "./_parts/source-words";
import { UncheckedLists } from "./_parts/unchecked-lists";

export const metadata: Metadata = { title: "Lists" };

export default async function ListsPage({ searchParams }: { searchParams: Promise<{ page?: string }> }) {
  const { db, actor, now } = await requirePage("see recalls");
  const page = Math.max(1, Math.floor(Number((await searchParams).page ?? 1)) || 1);
  const [sources, checks] = await Promise.all([forPage(listSources(db, actor, { now })), forPage(listChecks(db, actor, { page }))]);
  const mayLoad = mayDo(actor, "load notices");
  const add = mayLoad && (
    <ButtonLink look={sources.some(({ held }) => held !== null) ? "plain" : "main"} href="/recalls/lists/new">
      Add a list
    </ButtonLink>
  );
  return (
    <>
      <PageHead
        title="Lists"
        lead="Recall lists that are fetched from their publishers. A new version is looked at before it replaces anything, and every look is kept."
        crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "Lists" }]}
        cells={cellsOf(sources)}
      />
      {sources.some(({ isBeingChecked }) => isBeingChecked) && <KeepFresh everyMs={2_000} />}
      <UncheckedLists db={db} actor={actor} now={now} />
      {sources.map((source) => (
        <HeldList key={source.id} source={source} mayDecide={mayLoad} />
      ))}
      <PlainSection head="Fetched on a schedule" aside={sources.length > 0 && add}>
        {sources.length === 0 ? (
          <EmptyState head="No list is fetched yet" action={add}>
            Give the address of a regulator's open list, and it is looked at as often as you choose. Until then a list is only as new as the
            file that someone last brought in.
          </EmptyState>
        ) : (
          <SourceTable sources={sources} />
        )}
      </PlainSection>
      {checks.total > 0 && (
        <PlainSection head="Checks" id="checks">
          <CheckTable checks={checks.rows} withNames />
          <Pager page={page} pages={Math.max(1, Math.ceil(checks.total / checksAPage))} href={(to) => `/recalls/lists?page=${to}#checks`}>
            {figures(checks.total)} in all
          </Pager>
        </PlainSection>
      )}
    </>
  );
}

function cellsOf(sources: readonly ShownSource[]) {
  const checked = sources.flatMap(({ checkedAt }) => (checkedAt ? [checkedAt.getTime()] : []));
  return [
    { label: "Fetched", value: figures(sources.filter(({ isOn }) => isOn).length) },
    { label: "Last checked", value: checked.length > 0 ? timeWords(new Date(Math.max(...checked))) : "never" },
    { label: "Wait for a decision", value: figures(sources.filter(({ heldCheckId }) => heldCheckId !== null).length) },
  ];
}
