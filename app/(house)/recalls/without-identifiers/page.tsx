import type { Metadata } from "next";
import Link from "next/link";
import { requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection } from "@/app/_ui/side-section";
import { findUnidentified, type UnidentifiedGroup } from "@/lib/registry/unidentified-groups";
import { dayWords } from "../_parts/grade-words";
import styles from "../_parts/recalls.module.css";
import { answerWords } from "./answer-words";

export const metadata: Metadata = { title: "Notices without identifiers" };

export default async function WithoutIdentifiersPage() {
  const { db, actor } = await requirePage("see recalls");
  const groups = await findUnidentified(db, actor);
  const of = (...states: UnidentifiedGroup["state"][]) => groups.filter(({ state }) => states.includes(state));
  const asking = of("asks");
  return (
    <>
      <PageHead
        title="Notices without identifiers"
        crumbs={[{ label: "Recalls", href: "/recalls" }, { label: "Without identifiers" }]}
        lead={
          <>
            <b>{asking.length === 1 ? "One group waits" : `${figures(asking.length)} groups wait`} for an answer.</b> These notices name no
            model, serial, date code or product number, so only maker and kind can be compared. Each group is answered once; only what is
            new asks again.
          </>
        }
        cells={[
          { label: "Groups", value: figures(groups.length) },
          { label: "Waiting", value: figures(asking.length) },
          { label: "Notices", value: figures(groups.reduce((sum, { notices }) => sum + notices.length, 0)) },
        ]}
      />
      <Group head="Waiting for an answer" none="No group waits for an answer." groups={asking} />
      <Group head="Answered, and amended since" none="No answered notice was amended." groups={of("amended")} />
      <Group head="Answered" none="No group was answered yet." groups={of("answered")} />
      <Group head="Nothing here of that maker and kind" none="No loaded notice belongs here." groups={of("silent")} />
    </>
  );
}

const noticesShown = 3;

function Group({ head, none, groups }: { head: string; none: string; groups: readonly UnidentifiedGroup[] }) {
  return (
    <PlainSection head={groups.length > 0 ? `${head} (${figures(groups.length)})` : head}>
      {groups.length === 0 ? (
        <EmptyState head="None">{none} No match found does not mean not recalled.</EmptyState>
      ) : (
        <DataTable caption={head} cards top>
          <TableHead columns={["Maker and kind", "Notices", "Answer", figureColumn("Appliances waiting"), spokenColumn("Open")]} />
          <tbody>
            {groups.map((group) => (
              <Row key={group.id} group={group} />
            ))}
          </tbody>
        </DataTable>
      )}
    </PlainSection>
  );
}

function Row({ group }: { group: UnidentifiedGroup }) {
  const { id, maker, kind, notices, open, pairs, answer } = group;
  return (
    <tr>
      <td className={cell.wide}>
        <b>{maker}</b>
        <span className={cell.second}>{kind}</span>
      </td>
      <td className={cell.wide}>
        {notices.slice(0, noticesShown).map((notice) => (
          <span key={notice.id} className={styles.quoted}>
            <Link className={styles.number} href={`/recalls/${notice.id}`}>
              {notice.number}
            </Link>
            {notice.date && ` (${dayWords(notice.date)})`} {notice.title}
          </span>
        ))}
        {notices.length > noticesShown && <span className="small soft">{figures(notices.length - noticesShown)} more</span>}
      </td>
      <td className={cell.wide}>
        {answer ? answerWords(answer) : <span className="mute">{pairs > 0 ? "each decided by itself" : "none yet"}</span>}
      </td>
      <td className={cell.num} data-label="waiting">
        {open === 0 ? <span className="mute">none</span> : figures(open)}
      </td>
      <td className={styles.act}>
        <Link className={styles.review} href={`/recalls/without-identifiers/${id}`}>
          {open > 0 ? "Answer" : "Look"}
          <span className="vh">
            {" "}
            {maker} {kind}
          </span>
        </Link>
      </td>
    </tr>
  );
}
