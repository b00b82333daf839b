import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { StopUse } from "@/app/_ui/cautions";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { appliancesShown, getNoticeView } from "@/lib/registry/notice-view";
import { CandidateTable } from "../_parts/candidate-table";
import { CoverageList } from "../_parts/coverage-list";
import { dayWords } from "../_parts/grade-words";
import { MarkedNotice } from "../_parts/marked-notice";
import styles from "../_parts/recalls.module.css";
import { RegulatorLink } from "../_parts/regulator-link";

export const metadata: Metadata = { title: "Notice" };

export default async function NoticePage({ params }: { params: Promise<{ noticeId: string }> }) {
  const { db, actor } = await requirePage("see recalls");
  const { noticeId } = await params;
  const { notice, wordings, concerned, total } = await forPage(getNoticeView(db, actor, { noticeId }));
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
        ]}
      />
      <PlainSection head="The notice, in its own words" aside={<RegulatorLink notice={body} />}>
        <MarkedNotice notice={body} coverage={coverage} />
      </PlainSection>
      <PlainSection head="What we take it to cover">
        <CoverageList coverage={coverage} />
      </PlainSection>
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
