import { cell, DataTable, TableHead } from "@/app/_ui/data-table";
import type { ApplianceView } from "@/lib/registry/appliance-view";
import type { PlacementLanes } from "@/lib/registry/placement-lanes";
import { placeLine } from "../_parts/place-line";
import { dayWords, timeWords } from "../_parts/time-words";
import styles from "./lanes.module.css";

const mostLanes = 8;
const sourceWords: Readonly<Record<string, string>> = { labels: "a labels file", form: "a person", log: "the outlet log", walk: "a walk" };

/** The placements as lanes with a tick per sighting, absence as absence, and the table behind the drawing. */
export function Lanes({ view }: { view: ApplianceView }) {
  const { lanes } = view;
  if (lanes === null) return <p className="soft">Its tag was not seen anywhere yet, and nobody said where it is plugged in.</p>;
  return (
    <>
      <Drawing view={view} lanes={lanes} />
      <details>
        <summary>The placements as a table</summary>
        <PlacementTable view={view} />
      </details>
    </>
  );
}

function Drawing({ view, lanes }: { view: ApplianceView; lanes: PlacementLanes }) {
  const span = Math.max(1, lanes.to.getTime() - lanes.from.getTime());
  const at = (date: Date) => `${(((date.getTime() - lanes.from.getTime()) / span) * 100).toFixed(2)}%`;
  const wide = (from: Date, to: Date) => `${Math.max(0.3, ((to.getTime() - from.getTime()) / span) * 100).toFixed(2)}%`;
  const zone = view.site?.timeZone ?? null;
  return (
    <figure className={styles.line} aria-label={`Where it has been since ${dayWords(lanes.from, zone)}; the table below has the same.`}>
      <span className={styles.corner} />
      <div className={styles.months} aria-hidden="true">
        {monthStarts(lanes).map(({ date, label }) => (
          <span key={label + date.getTime()} style={{ left: at(date) }}>
            {label}
          </span>
        ))}
      </div>
      {lanes.lanes.slice(0, mostLanes).map((lane) => (
        <div className={styles.row} key={JSON.stringify(lane.place)}>
          <span className={styles.name}>{placeLine(view, lane.place, "within")}</span>
          <div className={styles.lane}>
            {lane.bars.map((bar) => (
              <span
                key={bar.from.getTime()}
                className={bar.now ? `${styles.stay} ${styles.now}` : styles.stay}
                style={{ left: at(bar.from), width: wide(bar.from, bar.to) }}
                title={barWords(bar, zone)}
              >
                {barWords(bar, zone)}
              </span>
            ))}
            {spread(lane.ticks, span).map((tick) => (
              <i key={tick.getTime()} className={styles.seen} style={{ left: at(tick) }} />
            ))}
          </div>
        </div>
      ))}
      {lanes.absences.length > 0 && (
        <div className={styles.row}>
          <span className={styles.name}>Absent</span>
          <div className={styles.lane}>
            {lanes.absences.map(({ from, to }) => (
              <span
                key={from.getTime()}
                className={`${styles.stay} ${styles.gone}`}
                style={{ left: at(from), width: wide(from, to) }}
                title={`not seen from ${dayWords(from, zone)} to ${dayWords(to, zone)}`}
              />
            ))}
          </div>
        </div>
      )}
      {lanes.lanes.length > mostLanes && (
        <figcaption className="small soft">{lanes.lanes.length - mostLanes} earlier places are in the table.</figcaption>
      )}
    </figure>
  );
}

function barWords(bar: { from: Date; to: Date; now: boolean }, zone: string | null): string {
  return bar.now ? `since ${dayWords(bar.from, zone)}` : `${dayWords(bar.from, zone)} to ${dayWords(bar.to, zone)}`;
}

/** Ticks that would fall on one another are one. */
function spread(ticks: readonly Date[], span: number): Date[] {
  const step = span / 400;
  return ticks.filter((tick, i) => i === 0 || Math.floor(tick.getTime() / step) !== Math.floor((ticks[i - 1]?.getTime() ?? 0) / step));
}

/** First days of months in the window, or days where it is short; at most a dozen. */
function monthStarts({ from, to }: PlacementLanes): { date: Date; label: string }[] {
  const days = (to.getTime() - from.getTime()) / 86_400_000;
  if (days < 45) return dayStarts(from, to, Math.max(1, Math.ceil(days / 8)));
  const step = Math.max(1, Math.ceil(days / 30.4 / 11));
  const starts: { date: Date; label: string }[] = [];
  const at = new Date(Date.UTC(from.getUTCFullYear(), from.getUTCMonth() + 1, 1));
  for (; at <= to; at.setUTCMonth(at.getUTCMonth() + step)) {
    const label = at.toLocaleDateString("en-GB", { month: "short", timeZone: "UTC" });
    starts.push({ date: new Date(at), label: at.getUTCMonth() === 0 ? String(at.getUTCFullYear()) : label });
  }
  return starts;
}

function dayStarts(from: Date, to: Date, step: number): { date: Date; label: string }[] {
  const starts: { date: Date; label: string }[] = [];
  const at = new Date(Date.UTC(from.getUTCFullYear(), from.getUTCMonth(), from.getUTCDate() + 1));
  for (; at <= to; at.setUTCDate(at.getUTCDate() + step)) {
    starts.push({ date: new Date(at), label: at.toLocaleDateString("en-GB", { day: "numeric", month: "short", timeZone: "UTC" }) });
  }
  return starts;
}

function PlacementTable({ view }: { view: ApplianceView }) {
  const zone = view.site?.timeZone ?? null;
  return (
    <DataTable caption="Placements, the latest first" cards>
      <TableHead columns={["Where", "From", "To", "Said by"]} />
      <tbody>
        {[...view.placements].reverse().map((row) => (
          <tr key={row.id}>
            <td className={cell.wide}>{placeLine(view, row, "within")}</td>
            <td className="nw" data-label="from">
              {timeWords(row.fromAt, zone)}
            </td>
            <td className="nw" data-label="to">
              {row.toAt ? timeWords(row.toAt, zone) : "now"}
            </td>
            <td>{sourceWords[row.source] ?? row.source}</td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
