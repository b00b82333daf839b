import Link from "next/link";
import { cell, DataTable, figureColumn, TableHead } from "@/app/_ui/data-table";
import { PlainSection } from "@/app/_ui/side-section";
import { type DemandLine, type DemandView, lookBackDays } from "@/lib/registry/demand-response";
import { clockWords } from "../../_parts/chart-words";
import styles from "../_parts/energy.module.css";
import { kwhWords, percent } from "../_parts/energy-words";
import { TakeAway } from "../rules/take-away";

interface Props {
  readonly view: DemandView;
  readonly zone: string;
  readonly siteId: string;
  readonly mayEdit: boolean;
}

/** One event checked: the site and each appliance. */
export function EventSection({ view, zone, siteId, mayEdit }: Props) {
  const { event, site, lines } = view;
  if (event === null || site === null) return null;
  const [from, to] = [event.fromAt.getTime(), event.toAt.getTime()];
  return (
    <PlainSection head={event.name} id="event" aside={mayEdit && <TakeAway siteId={siteId} id={event.id} kind="event" name={event.name} />}>
      <div className={styles.words}>
        <p>
          {clockWords(from, zone)} to {clockWords(to, zone)}. <SiteWords line={site} />
        </p>
        <p className="small soft">
          Method: the mean of the same hours on the last {event.similarDays} similar days, at most {lookBackDays} days back; weekdays with
          weekdays, weekends with weekends; days of other events and hours of which less than 90 % was measured are left out. Averaging
          recent similar days is common practice; weather is not taken into account.
        </p>
      </div>
      <div className={styles.figures}>
        <DataTable caption={`What each appliance used in ${event.name}`} cards>
          <TableHead
            columns={["Appliance", ...["Used", "Baseline", "Saved", "Lowest to highest similar day", "Days", "Measured"].map(figureColumn)]}
          />
          <tbody>
            {[site, ...lines].map((line, i) => (
              <Line key={line.id ?? `${i}`} line={line} isSite={i === 0} />
            ))}
          </tbody>
        </DataTable>
      </div>
    </PlainSection>
  );
}

function SiteWords({ line: { answer } }: { line: DemandLine }) {
  const { baseline, saved, kilowattHours } = answer;
  if (answer.measuredShare === 0) return <>There is no reading of these hours yet, so nothing can be said.</>;
  if (baseline === null || saved === null)
    return <>No similar day was measured before it, so there is no baseline and nothing is claimed.</>;
  return (
    <>
      The site used <b>{kwhWords(kilowattHours)} kWh</b> instead of {kwhWords(baseline)} kWh: <b>{kwhWords(Math.abs(saved))} kWh</b>{" "}
      {saved >= 0 ? "less" : "more"}
      {baseline > 0 && ` (${percent(Math.abs(saved) / baseline)})`}.{" "}
      {answer.isClear ? "That is below every similar day." : "Similar days vary by as much, so it may be chance."}
    </>
  );
}

function Line({ line, isSite }: { line: DemandLine; isSite: boolean }) {
  const { answer } = line;
  const kwh = (value: number | null) => (value === null ? "not known" : `${kwhWords(value)} kWh`);
  return (
    <tr>
      <th scope="row">
        {line.id === null ? isSite ? "The whole site" : line.name : <Link href={`/appliances/${line.id}`}>{line.name}</Link>}
        {line.detail && <span className={cell.second}>{line.detail}</span>}
      </th>
      <td className={cell.num} data-label="used">
        {kwh(answer.kilowattHours)}
      </td>
      <td className={cell.num} data-label="baseline">
        {kwh(answer.baseline)}
      </td>
      <td className={cell.num} data-label="saved">
        {answer.isClear ? <b>{kwh(answer.saved)}</b> : kwh(answer.saved)}
      </td>
      <td className={cell.num} data-label="similar days">
        {answer.lowest === null || answer.highest === null ? "none" : `${kwhWords(answer.lowest)} to ${kwhWords(answer.highest)} kWh`}
      </td>
      <td className={cell.num} data-label="days">
        {answer.days.length}
      </td>
      <td className={cell.num} data-label="measured">
        {percent(answer.measuredShare)}
      </td>
    </tr>
  );
}
