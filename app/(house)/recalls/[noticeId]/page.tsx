import type { Metadata } from "next";
import Link from "next/link";
import { z } from "zod";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { StopUse } from "@/app/_ui/cautions";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { RecordTimeline } from "@/app/(house)/_record/record-timeline";
import { mayDo } from "@/lib/access/permissions";
import { fieldText } from "@/lib/notices/correction";
import type { Coverage } from "@/lib/notices/coverage";
import type { Notice } from "@/lib/notices/notice";
import { findCoverageReview } from "@/lib/registry/coverage-review";
import { appliancesShown, getNoticeView } from "@/lib/registry/notice-view";
import type { SearchParams } from "../_parts/address";
import { CandidateTable } from "../_parts/candidate-table";
import { dayWords } from "../_parts/grade-words";
import { MarkedNotice, type WordsAt } from "../_parts/marked-notice";
import styles from "../_parts/recalls.module.css";
import { RegulatorLink } from "../_parts/regulator-link";
import { CorrectPanel } from "./correct-panel";
import { Corrections } from "./corrections";
import { Covers } from "./covers";
import own from "./notice.module.css";
import { wordsAddress } from "./words-at";

export const metadata: Metadata = { title: "Notice" };

const text = z.string().max(4000).optional().catch(undefined);
const address = z.object({ words: text, take: text, withdraw: text });

export default async function NoticePage(props: { params: Promise<{ noticeId: string }>; searchParams: SearchParams }) {
  const { db, actor } = await requirePage("see recalls");
  const { noticeId } = await props.params;
  const chosen = address.parse(await props.searchParams);
  const [view, review] = await forPage(Promise.all([getNoticeView(db, actor, { noticeId }), findCoverageReview(db, actor, { noticeId })]));
  const { notice, wordings, concerned, total } = view;
  const mayCorrect = mayDo(actor, "correct coverage");
  const correctHref = (words: WordsAt) => `/recalls/${noticeId}?words=${wordsAddress(words)}#correct`;
  const { body, coverage, goneAt, amendedAt, firstLoadedAt } = notice;
  const state = goneAt ? `not in the list since ${dayWords(goneAt)}` : amendedAt ? `amended ${dayWords(amendedAt)}` : "as first loaded";
  return (
    <>
      <PageHead
        title={
          <>
            Notice <span className="nw">{body.number}</span>
          </>
        }
        crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "Notices", href: "/recalls#notices" }, { label: body.number }]}
        lead={
          total === 0 ? (
            "No appliance here was found that it may cover. That does not mean that none is recalled."
          ) : (
            <Concerned total={total} />
          )
        }
        cells={[
          { label: "Published", value: body.date ? dayWords(body.date) : "no date" },
          { label: "Loaded", value: dayWords(firstLoadedAt) },
          { label: "State", value: state },
          { label: "Corrected", value: review.corrections.length === 0 ? "by nobody" : `${review.corrections.length} by people` },
        ]}
      />
      <PlainSection head="The notice, in its own words" aside={<RegulatorLink notice={body} />}>
        <Unread notice={body} coverage={coverage} hrefOf={mayCorrect ? correctHref : null} />
        <MarkedNotice notice={body} coverage={coverage} {...(mayCorrect ? { correctHref } : {})} />
      </PlainSection>
      <PlainSection head="What it is taken to cover" id="covers">
        <div className={mayCorrect ? own.two : undefined}>
          <Covers noticeId={noticeId} statements={review.statements} mayCorrect={mayCorrect} />
          {mayCorrect && <CorrectPanel notice={notice} review={review} chosen={chosen} />}
        </div>
      </PlainSection>
      {review.corrections.length + review.withdrawn.length > 0 && (
        <PlainSection head="Corrected by people" id="corrections">
          <Corrections noticeId={noticeId} standing={review.corrections} withdrawn={review.withdrawn} mayCorrect={mayCorrect} />
        </PlainSection>
      )}
      <PlainSection head="Appliances it may cover" id="appliances">
        {concerned.length === 0 ? (
          <EmptyState head="None found">
            No match found does not mean not recalled: labels may be unread or the notice may be understood too narrowly.
          </EmptyState>
        ) : (
          <>
            <div className={styles.stop}>
              <StopUse />
            </div>
            <CandidateTable caption="Appliances it may cover" rows={concerned} />
            {total > appliancesShown && (
              <p className="small soft">
                The first {appliancesShown} of {figures(total)}, open ones first.
              </p>
            )}
          </>
        )}
      </PlainSection>
      {wordings.length > 0 && (
        <PlainSection head="Earlier wordings">
          {wordings.map((wording) => (
            <details key={wording.contentHash}>
              <summary>Replaced {dayWords(wording.replacedAt)}</summary>
              <MarkedNotice notice={wording.body} coverage={wording.coverage} />
            </details>
          ))}
        </PlainSection>
      )}
      <RecordTimeline db={db} actor={actor} ids={[noticeId]} />
    </>
  );
}

function Concerned({ total }: { total: number }) {
  return (
    <>
      <b>{total === 1 ? "One appliance" : `${figures(total)} appliances`}</b> may be covered or were ruled out by a fact.
    </>
  );
}

const unreadShown = 8;

/** The passages that were not understood, at the top, each one key press from its correction; several can be answered together. */
function Unread({ notice, coverage, hrefOf }: { notice: Notice; coverage: Coverage; hrefOf: ((words: WordsAt) => string) | null }) {
  const unread = coverage.spans.filter(({ kind }) => kind === "unread").sort((a, b) => a.start - b.start);
  const [first] = unread;
  if (!first) return null;
  const beside = unread.filter(({ field, index }) => field === first.field && index === first.index);
  const together = { field: first.field, index: first.index ?? 0, start: first.start, end: Math.max(...beside.map(({ end }) => end)) };
  return (
    <section className={own.unread} aria-label="Not understood">
      <p>
        <b>{unread.length === 1 ? "One passage was" : `${unread.length} passages were`} not understood: a person must read this.</b> Until
        then an appliance that only these words mean is not found.
      </p>
      <ul>
        {unread.slice(0, unreadShown).map(({ field, index = 0, start, end }) => (
          <li key={`${field} ${index} ${start}`}>
            <q>{fieldText(notice, field, index)?.slice(start, end)}</q>{" "}
            {hrefOf && (
              <Link href={hrefOf({ field, index, start, end })} scroll={false}>
                Read it
              </Link>
            )}
          </li>
        ))}
      </ul>
      {unread.length > unreadShown && <p className="small soft">{unread.length - unreadShown} more are marked below.</p>}
      {hrefOf && beside.length > 1 && (
        <p>
          <Link href={hrefOf(together)} scroll={false}>
            Read these {beside.length} together, from the first to the last
          </Link>
        </p>
      )}
    </section>
  );
}
