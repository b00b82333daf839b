import Link from "next/link";
import { figures } from "@/app/_ui/account";
import { Acts, Button } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { SelectField, TextField } from "@/app/_ui/field";
import { FilterBar } from "@/app/_ui/filter-bar";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { type findNoticeList, noticesAPage } from "@/lib/registry/recall-overview";
import { addressOf, type RecallsAddress } from "./address";
import { NoticeTable } from "./notice-table";

function Elsewhere() {
  return (
    <Acts>
      <Link href="/recalls/without-identifiers">Notices without identifiers</Link>
      <Link href="/recalls/makers">Makers' names that belong together</Link>
      <Link href="/recalls/remedies">Remedies, and how far they are</Link>
      <Link href="/recalls/proof">What was checked, to hand on</Link>
    </Acts>
  );
}

const noticeStates = { all: "all", current: "in the list", amended: "amended", gone: "gone from the list" } as const;

/** The notices of all lists, searched and sorted. */
export function NoticeSection({ notices, address }: { notices: Awaited<ReturnType<typeof findNoticeList>>; address: RecallsAddress }) {
  const { notices: query } = address;
  const at = (changes: Partial<RecallsAddress["notices"]>) =>
    addressOf({ ...address, notices: { ...query, page: 1, ...changes } }, "notices");
  const pages = Math.max(1, Math.ceil(notices.total / noticesAPage));
  return (
    <PlainSection head="Notices" id="notices" aside={<Elsewhere />}>
      <FilterBar action="/recalls#notices">
        <TextField label="Find a notice" name="nq" type="search" defaultValue={query.search} placeholder="Number, maker, product, model" />
        <SelectField label="State" name="nstate" defaultValue={query.state}>
          {Object.entries(noticeStates).map(([name, words]) => (
            <option key={name} value={name}>
              {words}
            </option>
          ))}
        </SelectField>
        <Button>Show</Button>
      </FilterBar>
      {notices.rows.length === 0 ? (
        <EmptyState head="No notice matches" action={<Link href={at({ search: "", state: "all" })}>Show all notices</Link>}>
          Try fewer words: each must occur in the number, title, maker, product or models.
        </EmptyState>
      ) : (
        <>
          <NoticeTable rows={notices.rows} query={query} href={(sort, order) => at({ sort, order })} />
          <Pager page={query.page} pages={pages} href={(page) => at({ page })}>
            {figures(notices.total)} in all
          </Pager>
        </>
      )}
    </PlainSection>
  );
}
