import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { Seen } from "@/app/_ui/seen";
import type { ApplianceView } from "@/lib/registry/appliance-view";
import { type BaselineView, baselineSeen } from "@/lib/registry/documented-baseline";
import { timeWords } from "../_parts/time-words";
import { baselineAction } from "../actions";
import styles from "./appliance.module.css";

interface Props {
  view: ApplianceView;
  baseline: BaselineView;
  mayEdit: boolean;
}

/** What its draw is measured against over the weeks, who said so, and the form that says otherwise. */
export function Baseline({ view, baseline, mayEdit }: Props) {
  const { appliance, site } = view;
  const { days, isMeasured, said } = baseline;
  return (
    <div className={`${styles.state} ${styles.baseline}`}>
      <p>
        Baseline: {days === null ? "the median of its first days with readings." : `the median of ${days}, documented.`}
        {said && (
          <span className="soft">
            {" "}
            {said.who}, {timeWords(said.at, site?.timeZone ?? null)}: {said.reason}
          </span>
        )}
      </p>
      {!isMeasured && <p>Nothing was measured on these days: while that is so it is not judged for drift.</p>}
      {mayEdit && (
        <details>
          <summary>{days === null ? "document another period" : "change the period"}</summary>
          <ActionForm action={baselineAction} done="Recorded. The kept readings are judged anew by it.">
            <input type="hidden" name="id" value={appliance.id} />
            <Seen values={baselineSeen(appliance)} />
            <FieldColumns>
              <TextField label="First day" name="from" type="date" defaultValue={appliance.baselineFrom ?? ""} />
              <TextField label="Last day" name="to" type="date" defaultValue={appliance.baselineTo ?? ""} />
            </FieldColumns>
            <TextField
              label="Why"
              name="reason"
              maxLength={500}
              hint="Days on which it was known to be in order, such as after a service. Earlier days are not judged for drift then."
            />
            <Acts>
              <Button name="use" value="days">
                Document these days
              </Button>
              {days !== null && (
                <Button name="use" value="first">
                  Use the first days again
                </Button>
              )}
            </Acts>
          </ActionForm>
        </details>
      )}
    </div>
  );
}
