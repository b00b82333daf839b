import Link from "next/link";
import { forPage } from "@/app/_server/page";
import { Button } from "@/app/_ui/button";
import { EmptyState } from "@/app/_ui/empty-state";
import { TextField } from "@/app/_ui/field";
import { FilterBar } from "@/app/_ui/filter-bar";
import { PlainSection } from "@/app/_ui/side-section";
import type { Actor } from "@/lib/access/actor";
import { asDrawRange, outletSeries } from "@/lib/registry/draw-series";
import type { ReadingsOverview, ReadingsQuery } from "@/lib/registry/readings-overview";
import type { Db } from "@/lib/store/client";
import { DrawChart, RangeLinks } from "../draw-chart";
import { readingsHref } from "./address";
import { clockWords } from "./chart-words";
import styles from "./readings.module.css";

interface Props {
  readonly db: Db;
  readonly actor: Actor;
  readonly query: ReadingsQuery;
  readonly overview: ReadingsOverview;
}

/** The outlets that have readings, and the chosen one's charts. */
export function OutletSection({ db, actor, query, overview }: Props) {
  return (
    <PlainSection head="By outlet" id="outlets">
      <FilterBar action="/readings#outlets" label="Outlets" key={query.find ?? ""}>
        <TextField label="Find an outlet" type="search" name="find" defaultValue={query.find ?? ""} placeholder="Name of the outlet" />
        <Button>Show</Button>
      </FilterBar>
      {overview.outlets.length === 0 ? (
        <EmptyState
          head="No outlet with readings"
          action={query.find && <Link href={readingsHref(query, { find: undefined }, "#outlets")}>Show all</Link>}
        >
          {query.find ? "No outlet of this name has readings." : "Load an outlet log first."}
        </EmptyState>
      ) : (
        <ul className={styles.outlets}>
          {overview.outlets.map(({ id, name, lastAt }) => (
            <li key={id}>
              <Link
                href={readingsHref(query, { outlet: id, range: undefined }, "#chart")}
                aria-current={query.outlet === id ? "true" : undefined}
              >
                {name}
              </Link>
              <span>{lastAt === null ? "no reading" : `last ${clockWords(lastAt.getTime(), "UTC")} UTC`}</span>
            </li>
          ))}
        </ul>
      )}
      {overview.moreOutlets && <p className="small mute">More outlets have readings: find one by its name.</p>}
      {query.outlet && <OutletCharts db={db} actor={actor} query={query} outletId={query.outlet} />}
    </PlainSection>
  );
}

async function OutletCharts({ db, actor, query, outletId }: Omit<Props, "overview"> & { readonly outletId: string }) {
  const all = await forPage(outletSeries(db, actor, { outletId, range: asDrawRange(query.range) }));
  return (
    <div className={styles.charts} id="chart">
      {all.length === 0 && <p>No readings of this outlet.</p>}
      {all.map((series, i) => (
        <div key={series.name}>
          <div className={styles.chartHead}>
            <h3>{series.name}</h3>
            {i === 0 && <RangeLinks series={series} hrefOf={(range) => readingsHref(query, { range }, "#chart")} />}
          </div>
          <DrawChart series={series} />
        </div>
      ))}
    </div>
  );
}
