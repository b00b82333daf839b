import { PlainSection } from "@/app/_ui/side-section";
import { type ComparedDays, confidence } from "@/lib/registry/energy-compare";
import type { EnergyView } from "@/lib/registry/energy-view";
import { fewestDays } from "@/lib/watch/baseline";
import styles from "./energy.module.css";
import { dayWords, kwhWords, percent } from "./energy-words";

function daysWords({ values, leftOut }: ComparedDays): string {
  const out = leftOut === 0 ? "" : `; ${leftOut} left out, because less than 90\u00a0% of them was measured`;
  return `${values.length} ${values.length === 1 ? "day" : "days"} compared${out}`;
}

/** The shown period against a baseline: the difference a day with its interval, or why nothing can be said. */
export function CompareSection({ view }: { view: EnergyView }) {
  const { comparison, zone } = view;
  const { baseline, later, result, isUsual } = comparison;
  if (isUsual && baseline.values.length + baseline.leftOut === 0)
    return (
      <PlainSection head="Against a baseline" id="compare">
        <p className="soft">
          Nothing was measured before the days shown. Choose later days, or a baseline period under More filters, to see whether more or
          less was used than before.
        </p>
      </PlainSection>
    );
  const period = (days: ComparedDays) => `${dayWords(zone, days.fromMs)} to ${dayWords(zone, days.toMs - 1)}`;
  return (
    <PlainSection head="Against a baseline" id="compare">
      <div className={styles.words}>
        <p>
          Baseline {period(baseline)}
          {isUsual && ", the four weeks before unless another is chosen under More filters"}: {daysWords(baseline)}. Shown {period(later)}:{" "}
          {daysWords(later)}.
        </p>
        {result === null ? (
          <p>
            At least {fewestDays} such days are needed in both periods; nothing is claimed.{" "}
            {view.subject === "the whole site" &&
              "One receptacle that was not read all day leaves its site's day out: choose a unit, circuit or outlet that is, or one appliance."}
          </p>
        ) : (
          <>
            <p>
              A day used <b>{kwhWords(result.later.mean)} kWh</b> instead of {kwhWords(result.baseline.mean)} kWh: a difference of{" "}
              <b>
                {result.difference > 0 ? "+" : ""}
                {kwhWords(result.difference)} kWh
              </b>
              {result.share === null ? "" : ` (${result.share > 0 ? "+" : ""}${percent(result.share)})`}, {Math.round(confidence * 100)} %
              interval {kwhWords(result.low)} to {kwhWords(result.high)} kWh.{" "}
              {result.isClear
                ? "The interval leaves out zero: the change is more than the days' own spread."
                : "The interval holds zero: the days' own spread alone may explain it."}
            </p>
            <p className="small soft">
              Method: Welch's comparison of two means with unequal variances, {Math.round(result.degrees * 10) / 10} degrees of freedom.
              Days are taken as independent of each other, which weekly habits and weather make a little too confident.
            </p>
          </>
        )}
      </div>
    </PlainSection>
  );
}
