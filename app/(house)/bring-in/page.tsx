import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { SideSection } from "@/app/_ui/side-section";
import { importKindsOf } from "@/lib/jobs/bring-in";
import { listRuns, type ShownRun } from "@/lib/registry/import-list";
import styles from "./bring-in.module.css";
import { counted, instantWords, kindWords, stateWords } from "./run-words";
import { UploadForm } from "./upload-form";

export const metadata: Metadata = { title: "Bring in" };

const runsOnPage = 20;

export default async function BringInPage({ searchParams }: { searchParams: Promise<{ page?: string }> }) {
  const { db, actor, now } = await requirePage("bring in labels");
  const page = Math.max(1, Math.floor(Number((await searchParams).page ?? 1)) || 1);
  const { runs, total } = await forPage(listRuns(db, actor, { page, take: runsOnPage, now }));
  const kinds = importKindsOf(actor);
  return (
    <>
      <PageHead
        title="Bring in"
        lead="Labels, places, a recall list or an outlet log, from any spreadsheet. Every row is accounted for; nothing goes in before you have seen it."
        cells={[
          { label: "Runs", value: figures(total) },
          { label: "Last", value: runs[0] && page === 1 ? stateWords[runs[0].state] : "none yet" },
        ]}
      />
      <SideSection head="A file" note="The same file twice changes nothing. An empty cell never erases what is known.">
        <UploadForm>
          <p className={styles.dropNote}>
            CSV with commas, semicolons or tabs, whatever its column names
            {kinds.includes("notices") && "; a recall list as it is published; an outlet log as CSV or JSON Lines"}. Files of hundreds of
            megabytes are read piece by piece.
          </p>
        </UploadForm>
      </SideSection>
      <SideSection head="Earlier" count={counted(total, "run")}>
        {runs.length === 0 ? <p>No file has been brought in yet.</p> : <RunTable runs={runs} />}
        <Pager page={page} pages={Math.max(1, Math.ceil(total / runsOnPage))} href={(to) => `/bring-in?page=${to}`} />
      </SideSection>
    </>
  );
}

function RunTable({ runs }: { runs: readonly ShownRun[] }) {
  return (
    <DataTable caption="Earlier runs, the latest first" cards>
      <TableHead
        columns={[
          "File",
          "State",
          figureColumn("Read"),
          figureColumn("Created"),
          figureColumn("Updated"),
          figureColumn("Unchanged"),
          figureColumn("Set aside"),
        ]}
      />
      <tbody>
        {runs.map((run) => (
          <tr key={run.id}>
            <td className={cell.wide}>
              <Link href={`/bring-in/${run.id}`}>{run.fileName}</Link>
              <span className={cell.second}>
                {kindWords[run.kind]}, {instantWords(run.startedAt)}
              </span>
            </td>
            <td data-label="State">{stateWords[run.state]}</td>
            <td className={cell.num} data-label="Read">
              {figures(run.rowsRead)}
            </td>
            <td className={cell.num} data-label="Created">
              {figures(run.created)}
            </td>
            <td className={cell.num} data-label="Updated">
              {figures(run.updated)}
            </td>
            <td className={cell.num} data-label="Unchanged">
              {figures(run.unchanged)}
            </td>
            <td className={cell.num} data-label="Set aside">
              {run.setAside > 0 ? <b>{figures(run.setAside)}</b> : 0}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
