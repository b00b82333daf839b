import type { Metadata } from "next";
import Link from "next/link";
import { forPage, requirePage } from "@/app/_server/page";
import { figures } from "@/app/_ui/account";
import { Acts, Button, ButtonLink } from "@/app/_ui/button";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { EmptyState } from "@/app/_ui/empty-state";
import { NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { FilterBar } from "@/app/_ui/filter-bar";
import { PageHead } from "@/app/_ui/page-head";
import { Pager } from "@/app/_ui/pager";
import { Progress } from "@/app/_ui/progress";
import { mayDo } from "@/lib/access/permissions";
import type { RoundStop } from "@/lib/registry/inspection-due-list";
import { planRound, type Round, type RoundQuery, roundQuery } from "@/lib/registry/round";
import { dueDay } from "../_parts/due-day";
import styles from "../_parts/inspect.module.css";
import { TakeAlong } from "./take-along";

export const metadata: Metadata = { title: "Round" };

const shown: Readonly<Record<string, string>> = {
  due: "due or overdue",
  overdue: "overdue",
  never: "never inspected",
  done: "done since the first day",
  all: "everything",
};

function hrefOf(query: RoundQuery, change: Partial<RoundQuery> = {}): string {
  const all = Object.entries({ ...query, ...change }).filter(([, value]) => value !== undefined);
  const text = new URLSearchParams(all.map(([name, value]) => [name, String(value)])).toString();
  return text === "" ? "/inspect/round" : `/inspect/round?${text}`;
}

export default async function RoundPage({ searchParams }: { searchParams: Promise<Record<string, string | string[]>> }) {
  const { db, actor, now } = await requirePage("see inspections");
  const query = roundQuery.parse(await searchParams);
  const round = await forPage(planRound(db, actor, { query, now }));
  const { site, stops, total, done, open } = round;
  const may = mayDo(actor, "record inspections", site?.id);
  return (
    <>
      <PageHead
        title={site ? `Round of ${site.name}` : "Round"}
        crumbs={[{ label: "Inspect", href: "/inspect" }, { label: "round" }]}
        lead={
          <>
            <b>{figures(total)}</b> {shown[query.show ?? "due"]}, in walking order: floor by floor, unit by unit, outlet by outlet.
          </>
        }
        cells={[
          { label: "Done", value: figures(done) },
          { label: "To do", value: figures(open) },
          { label: "Since", value: dueDay(round.since) },
        ]}
      />
      <Filters round={round} query={query} />
      <Progress label="This round" done={done} total={done + open}>
        {figures(done)} done, {figures(open)} to do
      </Progress>
      {stops.length === 0 ? (
        <EmptyState head="Nothing to walk to">
          {done > 0 ? "Everything that was due is done, or a filter is on." : "Nothing is due, or a filter is on."}
        </EmptyState>
      ) : (
        <>
          {may && <TakeAlong addresses={stops.map(({ id }) => `/inspect/${id}`)} />}
          <Stops stops={stops} back={hrefOf(query)} may={may} />
          <Pager page={round.page} pages={round.pages} href={(n) => hrefOf(query, { page: n === 1 ? undefined : n })}>
            {figures(total)} in all
          </Pager>
        </>
      )}
      {site && (
        <div className="noprint">
          <Acts>
            <ButtonLink href={hrefOf(query, { print: "all", page: undefined })} look="plain">
              All on one page, to print
            </ButtonLink>
            <a href={`/inspect/export?site=${site.id}`} download>
              Inspections of {site.name} as CSV
            </a>
          </Acts>
        </div>
      )}
    </>
  );
}

function Filters({ round, query }: { round: Round; query: RoundQuery }) {
  return (
    <div className="noprint">
      <FilterBar action="/inspect/round">
        <TextField label="Search" name="q" type="search" defaultValue={query.q ?? ""} placeholder="tag, kind, brand, unit" />
        <SelectField label="Site" name="site" defaultValue={round.site?.id ?? ""}>
          <NamedOptions list={round.sites} />
        </SelectField>
        <SelectField label="Show" name="show" defaultValue={query.show ?? "due"}>
          {Object.entries(shown).map(([name, words]) => (
            <option key={name} value={name}>
              {words}
            </option>
          ))}
        </SelectField>
        <TextField label="First day" name="since" type="date" defaultValue={round.since.toISOString().slice(0, 10)} />
        <Button look="plain">Show</Button>
      </FilterBar>
    </div>
  );
}

function Stops({ stops, back, may }: { stops: readonly RoundStop[]; back: string; may: boolean }) {
  return (
    <DataTable caption="The round" cards top>
      <TableHead columns={["Where", "What", "Tag", "Last", "Due", spokenColumn("Done, to tick on paper")]} />
      <tbody>
        {stops.map((stop) => (
          <Stop key={stop.id} stop={stop} back={back} may={may} />
        ))}
      </tbody>
    </DataTable>
  );
}

function Stop({ stop, back, may }: { stop: RoundStop; back: string; may: boolean }) {
  const { id, place, what, lastAt, lastResult, dueAt, state, outOfUse } = stop;
  const where = [place.unit ? `unit ${place.unit}` : "shared area", place.outlet, place.receptacle].filter(Boolean).join(", ");
  const due = lastAt === null ? "never inspected" : dueDay(dueAt);
  const href = may ? `/inspect/${id}?back=${encodeURIComponent(back)}` : `/appliances/${id}`;
  return (
    <tr>
      <td className={cell.wide}>{where}</td>
      <td className={cell.wide}>
        {what}
        {outOfUse && <span className={cell.second}>out of use</span>}
      </td>
      <td>
        <Link href={href} prefetch={false}>
          {place.tag}
        </Link>
      </td>
      <td className="nw" {...(lastAt ? { "data-label": "last" } : {})}>
        {lastAt ? `${dueDay(lastAt)}, ${lastResult}` : ""}
      </td>
      <td className="nw" data-label="due">
        {state === "overdue" ? <b className="late">{due}</b> : due}
      </td>
      <td className={cell.gone}>
        <span className={styles.tick} />
      </td>
    </tr>
  );
}
