import type { Metadata } from "next";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { ActionForm } from "@/app/_ui/action-form";
import { Button } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { FormId } from "@/app/_ui/form-id";
import { PageHead } from "@/app/_ui/page-head";
import { PlainSection, SideSection } from "@/app/_ui/side-section";
import { mayDo } from "@/lib/access/permissions";
import { siteTopic, usualTopic } from "@/lib/jobs/broker-topic";
import { arrivalOverview, type KeyLine, type SendingSite, type SourceCount } from "@/lib/registry/arrival-overview";
import { retentionOf } from "@/lib/registry/readings-retention";
import { clockWords } from "../_parts/chart-words";
import { ReadingsLinks } from "../_parts/readings-links";
import { revokeKey } from "./actions";
import styles from "./keys.module.css";
import { NewKeyForm } from "./new-key-form";
import { RetentionSection } from "./retention-section";

export const metadata: Metadata = { title: "Keys for readings" };

export default async function ReadingKeysPage() {
  const { db, actor, now } = await requirePage("manage API keys");
  const { keys, sites } = await forPage(arrivalOverview(db, actor, now));
  const retention = mayDo(actor, "set retention") ? await forPage(retentionOf(db, actor)) : null;
  const inUse = keys.filter(({ revokedAt }) => revokedAt === null);
  const revoked = keys.filter(({ revokedAt }) => revokedAt !== null);
  return (
    <>
      <PageHead
        title="Keys for readings"
        crumbs={[{ label: "Readings", href: "/readings" }, { label: "keys" }]}
        lead={
          <>
            A device sends its site's readings to <Code>/api/v1/readings</Code> with a key.{" "}
            <b>Who has the key can send readings, and nothing else.</b>
          </>
        }
        cells={[
          { label: "In use", value: inUse.length },
          { label: "Revoked", value: revoked.length },
        ]}
      />
      <ReadingsLinks here="/readings/keys" mayKeys />
      <SideSection head="A new key" note="One key for each gateway, so that one can be revoked without the others.">
        {sites.length === 0 ? (
          <EmptyState head="No site">Add a building first: a key belongs to one site.</EmptyState>
        ) : (
          <NewKeyForm sites={sites}>
            <FormId />
          </NewKeyForm>
        )}
      </SideSection>
      <PlainSection head="Keys" id="keys">
        {keys.length === 0 ? (
          <EmptyState head="No key yet">Until there is one, readings come in by file or from a broker.</EmptyState>
        ) : (
          <KeyTable keys={[...inUse, ...revoked]} />
        )}
      </PlainSection>
      <PlainSection head="From a broker" id="broker">
        <p className={`soft ${styles.words}`}>
          A worker that is started with <Code>--broker</Code> listens to these topics. The broker decides who may publish to them.
        </p>
        <SiteTable sites={sites} />
      </PlainSection>
      {retention !== null && (
        <div className={styles.below}>
          <RetentionSection retention={retention} sites={sites} mayAll={actor.siteIds === "all"} />
        </div>
      )}
    </>
  );
}

/** What came in seven days, in a few words. */
function countWords({ batches, accepted, repeated, setAside }: SourceCount): string {
  if (batches === 0) return "nothing";
  const more = [repeated > 0 ? `${figures(repeated)} repeated` : "", setAside > 0 ? `${figures(setAside)} set aside` : ""].filter(Boolean);
  return [`${figures(accepted)} readings`, ...more].join(", ");
}

const utc = (at: Date | null, none: string) => (at === null ? none : `${clockWords(at.getTime(), "UTC")} UTC`);

function KeyTable({ keys }: { keys: readonly KeyLine[] }) {
  return (
    <DataTable caption="Keys and what came with them in seven days" cards>
      <TableHead columns={["Name", "Ends in", "Last used", "In seven days", spokenColumn("Revoke")]} />
      <tbody>
        {keys.map((key) => (
          <tr key={key.id}>
            <td className={cell.wide}>
              <b>{key.name}</b>
              <span className={cell.second}>{key.site}</span>
            </td>
            <td data-label="Ends in">
              <Code>{key.hint}</Code>
            </td>
            <td data-label="Last used">{utc(key.lastUsedAt, "not used")}</td>
            <td className={cell.wide} data-label="In seven days">
              {countWords(key.count)}
              {key.count.problem !== null && <span className={cell.second}>Set aside last: {key.count.problem}</span>}
            </td>
            <td>
              {key.revokedAt === null ? (
                <ActionForm action={revokeKey}>
                  <input type="hidden" name="id" value={key.id} />
                  <Button look="quiet" aria-label={`Revoke ${key.name} of ${key.site}`}>
                    Revoke
                  </Button>
                </ActionForm>
              ) : (
                `revoked ${utc(key.revokedAt, "")}`
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}

function SiteTable({ sites }: { sites: readonly SendingSite[] }) {
  return (
    <DataTable caption="Topics of the sites, and how far their readings were followed" cards>
      <TableHead columns={["Site and topic", "In seven days", "Newest reading", "Judged"]} />
      <tbody>
        {sites.map((site) => (
          <tr key={site.id}>
            <td className={cell.wide}>
              <b>{site.name}</b>
              <span className={cell.second}>
                <Code wrap>{siteTopic(usualTopic, site)}</Code>
              </span>
            </td>
            <td className={cell.wide} data-label="In seven days">
              {countWords(site.broker)}
              {site.broker.problem !== null && <span className={cell.second}>Set aside last: {site.broker.problem}</span>}
            </td>
            <td data-label="Newest reading">{utc(site.newestAt, "none")}</td>
            <td data-label="Judged">
              {site.waiting === 0 ? (site.isStale ? "again soon: some came late" : "all") : `${figures(site.waiting)} parts wait`}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
