import type { Metadata } from "next";
import Link from "next/link";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { SelectField, TextField } from "@/app/_ui/field";
import { FilterBar, type FilterChip, FilterChips } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { PlainSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { mayDo } from "@/lib/access/permissions";
import {
  type CandidateList,
  candidatesAPage,
  findCandidateList,
  findNoticeList,
  getRecallState,
  noticesAPage,
} from "@/lib/registry/recall-overview";
import { addressOf, type RecallsAddress, readAddress, type SearchParams } from "./_parts/address";
import { CandidateTable } from "./_parts/candidate-table";
import { CompareAgain } from "./_parts/compare-again";
import { dayWords, gradeWords, standingWords } from "./_parts/grade-words";
import { NoticeTable } from "./_parts/notice-table";
import styles from "./_parts/recalls.module.css";
import { SearchBox } from "./_parts/search-box";
import { UncheckedLists } from "./lists/_parts/unchecked-lists";

export const metadata: Metadata = { title: "Recalls" };

type RecallState = Awaited<ReturnType<typeof getRecallState>>;

export default async function RecallsPage({ searchParams }: { searchParams: SearchParams }) {
  const { db, actor, now } = await requirePage("see recalls");
  const given = await searchParams;
  const address = readAddress(given);
  const settled = typeof given["settled"] === "string" ? given["settled"].slice(0, 40) : null;
  const [state, list, notices] = await Promise.all([
    getRecallState(db, actor),
    findCandidateList(db, actor, address.candidates),
    findNoticeList(db, actor, address.notices),
  ]);
  const mayLoad = mayDo(actor, "load notices");
  return (
    <>
      <Head state={state} list={list} address={address} />
      {state.notices > 0 && <SearchBox />}
      {settled && (
        <div className={styles.advice} role="status">
          <SignalBanner word="NOTICE">
            <p>
              <b>{settled} is no longer a candidate.</b> What was read off it no longer fits the notice. It is kept with the appliance.
            </p>
          </SignalBanner>
        </div>
      )}
      <UncheckedLists db={db} actor={actor} now={now} />
      {state.notices === 0 ? (
        <PlainSection head="No recall list is loaded yet">
          <EmptyState
            head="Nothing to compare with"
            action={
              mayLoad && (
                <Acts>
                  <ButtonLink look="main" href="/bring-in">
                    Bring in a recall list
                  </ButtonLink>
                  <ButtonLink href="/recalls/lists">Have one fetched</ButtonLink>
                </Acts>
              )
            }
          >
            Load a regulator's open recall list; every appliance is compared with it at once. Until then nothing here says that an appliance
            is not recalled.
          </EmptyState>
        </PlainSection>
      ) : (
        <>
          <div className={styles.advice}>
            <SignalBanner word="CAUTION">
              <p>
                <b>A match is not proof, and no match found does not mean not recalled.</b> Until a candidate is settled, treat it as
                covered: stop using it and unplug it if the plug is cool and dry.
              </p>
            </SignalBanner>
          </div>
          <Candidates list={list} address={address} />
          <Lists state={state} mayLoad={mayLoad} mayCompare={mayDo(actor, "cross-check")} />
          <Notices notices={notices} address={address} />
        </>
      )}
    </>
  );
}

function Head({ state, list, address }: { state: RecallState; list: CandidateList; address: RecallsAddress }) {
  const [latest] = state.lists;
  const { covered, likely, check_label } = list.byGrade;
  const isPlain = address.candidates.state === "open" && address.candidates.search === "";
  const lead = (
    <>
      <b>
        {figures(covered + likely)} covered or likely, {figures(check_label)} to read the label of
      </b>
      {isPlain ? ", not yet decided." : " match."}
    </>
  );
  return (
    <PageHead
      title="Recalls"
      lead={lead}
      cells={[
        { label: "Latest list", value: latest ? `loaded ${dayWords(latest.loadedAt)}` : "none" },
        { label: "Notices", value: figures(state.notices) },
        { label: "Not yet compared", value: figures(state.unchecked) },
      ]}
    />
  );
}

const stateChoices = ["open", "unsure", "affected", "not_affected", "all"] as const;
const stateNames = { ...standingWords, open: "undecided", all: "all" } as const;
const gradeChoices = ["all", "covered", "likely", "check_label", "not_covered"] as const;

function Candidates({ list, address }: { list: CandidateList; address: RecallsAddress }) {
  const { candidates } = address;
  const at = (changes: Partial<RecallsAddress["candidates"]>) =>
    addressOf({ ...address, candidates: { ...candidates, page: 1, ...changes } }, "candidates");
  const chips: FilterChip[] = [
    ...(candidates.search ? [{ label: `“${candidates.search}”`, offHref: at({ search: "" }) }] : []),
    ...(candidates.state !== "open" ? [{ label: stateNames[candidates.state], offHref: at({ state: "open" }) }] : []),
    ...(candidates.grade !== "all" ? [{ label: gradeWords[candidates.grade], offHref: at({ grade: "all" }) }] : []),
  ];
  const pages = Math.max(1, Math.ceil(list.total / candidatesAPage));
  return (
    <PlainSection head="Appliances a notice may cover" id="candidates">
      <FilterBar action="/recalls">
        <TextField label="Find" name="q" type="search" defaultValue={candidates.search} placeholder="Tag, maker, model, serial, notice" />
        <SelectField label="Decision" name="state" defaultValue={candidates.state}>
          {stateChoices.map((name) => (
            <option key={name} value={name}>
              {stateNames[name]}
            </option>
          ))}
        </SelectField>
        {candidates.grade !== "all" && <input type="hidden" name="grade" value={candidates.grade} />}
        <Button>Show</Button>
      </FilterBar>
      <FilterChips chips={chips} clearHref="/recalls#candidates" />
      <nav className={styles.grades} aria-label="Grades">
        {gradeChoices.map((grade) => (
          <Link key={grade} href={at({ grade })} scroll={false} aria-current={candidates.grade === grade ? "true" : undefined}>
            {grade === "all" ? "All grades" : `${gradeWords[grade]} ${figures(list.byGrade[grade])}`}
          </Link>
        ))}
      </nav>
      {list.rows.length === 0 ? (
        <EmptyState head="None match" action={chips.length > 0 && <Link href="/recalls#candidates">Show all undecided</Link>}>
          {chips.length > 0
            ? "Take a filter off to see more."
            : "No undecided candidate is left. No match found does not mean not recalled."}
        </EmptyState>
      ) : (
        <>
          <CandidateTable
            caption="Appliances a notice may cover"
            rows={list.rows}
            sorting={{ sort: candidates.sort, order: candidates.order, href: (sort, order) => at({ sort, order }) }}
          />
          <Pager page={candidates.page} pages={pages} href={(page) => at({ page })}>
            {figures(list.total)} in all
          </Pager>
        </>
      )}
    </PlainSection>
  );
}

function Lists({ state, mayLoad, mayCompare }: { state: RecallState; mayLoad: boolean; mayCompare: boolean }) {
  return (
    <PlainSection
      head="Lists loaded"
      id="lists"
      aside={
        <Acts>
          <ButtonLink href="/recalls/lists">Fetched lists</ButtonLink>
          {mayLoad && <ButtonLink href="/bring-in">Bring in a list</ButtonLink>}
          {mayCompare && <CompareAgain />}
        </Acts>
      }
    >
      <DataTable caption="Lists loaded, the latest first" cards>
        <TableHead columns={["Loaded", "Source", ...["Records", "New", "Amended", "Unchanged", "Gone"].map(figureColumn)]} />
        <tbody>
          {state.lists.map((load) => (
            <tr key={load.id}>
              <td className="nw">
                {load.importRunId ? <Link href={`/bring-in/${load.importRunId}`}>{dayWords(load.loadedAt)}</Link> : dayWords(load.loadedAt)}
              </td>
              <td className={cell.wide}>
                {load.source}
                <span className={cell.second}>{load.fileName}</span>
              </td>
              <td className={cell.num} data-label="records">
                {figures(load.records)}
              </td>
              <td className={cell.num} data-label="new">
                {figures(load.fresh)}
              </td>
              <td className={cell.num} data-label="amended">
                {figures(load.amended)}
              </td>
              <td className={cell.num} data-label="unchanged">
                {figures(load.unchanged)}
              </td>
              <td className={cell.num} data-label="gone">
                {figures(load.gone)}
              </td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </PlainSection>
  );
}

function Elsewhere() {
  return (
    <Acts>
      <Link href="/recalls/without-identifiers">Notices without identifiers</Link>
      <Link href="/recalls/makers">Makers' names that belong together</Link>
    </Acts>
  );
}

const noticeStates = { all: "all", current: "in the list", amended: "amended", gone: "gone from the list" } as const;

function Notices({ notices, address }: { notices: Awaited<ReturnType<typeof findNoticeList>>; address: RecallsAddress }) {
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
