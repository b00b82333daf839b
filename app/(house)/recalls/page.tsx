import type { Metadata } from "next";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { mayDo } from "@/lib/access/permissions";
import { type CandidateList, findCandidateList, findNoticeList, getRecallState, type RecallState } from "@/lib/registry/recall-overview";
import { type RecallsAddress, readAddress, type SearchParams } from "./_parts/address";
import { CandidateSection } from "./_parts/candidate-section";
import { dayWords } from "./_parts/grade-words";
import { LoadedLists } from "./_parts/loaded-lists";
import { NoticeSection } from "./_parts/notice-section";
import styles from "./_parts/recalls.module.css";
import { SearchBox } from "./_parts/search-box";
import { UncheckedLists } from "./lists/_parts/unchecked-lists";

export const metadata: Metadata = { title: "Recalls" };

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
      {settled && <Settled name={settled} />}
      <UncheckedLists db={db} actor={actor} now={now} />
      {state.notices === 0 ? (
        <NoList mayLoad={mayLoad} />
      ) : (
        <>
          <Advice />
          <CandidateSection list={list} address={address} />
          <LoadedLists state={state} mayLoad={mayLoad} mayCompare={mayDo(actor, "cross-check")} />
          <NoticeSection notices={notices} address={address} />
        </>
      )}
    </>
  );
}

function Settled({ name }: { name: string }) {
  return (
    <div className={styles.advice} role="status">
      <SignalBanner word="NOTICE">
        <p>
          <b>{name} is no longer a candidate.</b> What was read off it no longer fits the notice. It is kept with the appliance.
        </p>
      </SignalBanner>
    </div>
  );
}

function NoList({ mayLoad }: { mayLoad: boolean }) {
  return (
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
        Load a regulator's open recall list; every appliance is compared with it at once. Until then nothing here says that an appliance is
        not recalled.
      </EmptyState>
    </PlainSection>
  );
}

function Advice() {
  return (
    <div className={styles.advice}>
      <SignalBanner word="CAUTION">
        <p>
          <b>A match is not proof, and no match found does not mean not recalled.</b> Until a candidate is settled, treat it as covered:
          stop using it and unplug it if the plug is cool and dry.
        </p>
      </SignalBanner>
    </div>
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
