import type { Metadata } from "next";
import Form from "next/form";
import Link from "next/link";
import { z } from "zod";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { FormWord, TextField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { checkRecord, findRecord, type RecordPage, recordPageSize } from "@/lib/access/read-record";
import { mySites } from "@/lib/registry/finding-list";
import { headText, parseHead } from "@/lib/store/record-head";
import type { RecordVerdict } from "@/lib/store/verify-record";
import styles from "./record.module.css";
import { RecordLineRow } from "./record-line";

export const metadata: Metadata = { title: "Record" };

const query = z.object({
  page: z.coerce.number().int().min(1).catch(1),
  subject: z.string().max(100).optional().catch(undefined),
  verify: z.string().optional().catch(undefined),
  head: z.string().trim().max(200).optional().catch(undefined),
});

export default async function RecordPageView({ searchParams }: { searchParams: Promise<Record<string, string | string[] | undefined>> }) {
  const { db, actor } = await requirePage("see record");
  const asked = query.parse(await searchParams);
  const record = await forPage(findRecord(db, actor, { page: asked.page, subjectId: asked.subject }));
  const head = asked.head ? parseHead(asked.head) : null;
  const misread = Boolean(asked.head) && head === null;
  const verdict = asked.verify === undefined || misread ? null : await forPage(checkRecord(db, actor, head));
  const address = (page: number) =>
    `/record?${new URLSearchParams({ ...(asked.subject ? { subject: asked.subject } : {}), page: String(page) })}`;
  return (
    <>
      <PageHead
        title="Record"
        lead="Who did what and when. Nothing is ever taken out or changed; each entry carries the mark of the one before it."
        cells={[
          { label: "Entries", value: figures(record.entries) },
          { label: "Order", value: "newest first" },
        ]}
      />
      <Form className={styles.verify} action="/record">
        <input type="hidden" name="verify" value="1" />
        <TextField
          label="End written down earlier (may be left empty)"
          name="head"
          code
          defaultValue={asked.head ?? ""}
          hint="NUMBER:HASH, as the last check or export showed it: it also finds an end that was cut off."
          error={misread ? "This is not NUMBER:HASH with 64 figures and letters a to f: copy it whole, or leave it empty." : undefined}
        />
        <Acts>
          <Button>Verify the whole record</Button>
          <ButtonLink href="/record/export" look="plain" prefetch={false}>
            Export as JSON Lines
          </ButtonLink>
          {asked.subject && (
            <ButtonLink href="/record" look="quiet">
              Show everything
            </ButtonLink>
          )}
        </Acts>
        {verdict && <Verdict verdict={verdict} wasGiven={head !== null} />}
      </Form>
      <SitesThen sites={await mySites(db, actor)} />
      <Entries record={record} address={address} />
    </>
  );
}

function SitesThen({ sites }: { sites: readonly { readonly id: string; readonly name: string }[] }) {
  if (sites.length === 0) return null;
  return (
    <p>
      A site as it was known on a day:{" "}
      {sites.map(({ id, name }, at) => (
        <span key={id}>
          {at > 0 && ", "}
          <Link href={`/building/${id}/then`}>{name}</Link>
        </span>
      ))}
    </p>
  );
}

function Verdict({ verdict: { entries, broken, lastHash }, wasGiven }: { verdict: RecordVerdict; wasGiven: boolean }) {
  if (broken) {
    return (
      <FormWord
        problem={`The record was changed behind its back: entry ${broken.number} does not fit, ${broken.why}. Restore a backup and compare.`}
      />
    );
  }
  return (
    <div>
      <FormWord
        done={`Whole: ${figures(entries)} entries recomputed, each fits the one before it${wasGiven ? ", and the end written down earlier is among them" : ""}.`}
      />
      <p className="small soft">
        Its end today, to be written down elsewhere: <Code wrap>{headText({ number: entries, hash: lastHash })}</Code>
      </p>
    </div>
  );
}

function Entries({ record, address }: { record: RecordPage; address: (page: number) => string }) {
  const { lines, entries, page, pages } = record;
  if (lines.length === 0) {
    return <EmptyState head="No entries yet">The first change that anyone makes will stand here.</EmptyState>;
  }
  const first = (page - 1) * recordPageSize + 1;
  return (
    <>
      <DataTable caption="Entries of the record" cards top>
        <TableHead columns={[figureColumn("No."), "When (UTC)", "Who", "What", "Details", "Mark"]} />
        <tbody>
          {lines.map((line) => (
            <RecordLineRow key={line.number} line={line} />
          ))}
        </tbody>
      </DataTable>
      <Pager page={page} pages={pages} href={address}>
        {figures(first)} to {figures(first + lines.length - 1)} of {figures(entries)}
      </Pager>
    </>
  );
}
