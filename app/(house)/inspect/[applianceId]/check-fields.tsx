"use client";

import { AreaField } from "@/app/_ui/field";
import { type CheckName, checkItems, checkNames, type Verdict, verdicts } from "@/lib/casework/inspection-checklist";
import styles from "../_parts/inspect.module.css";
import type { FormValues } from "./form-values";

type Change = (part: Partial<FormValues>) => void;

/** What is looked at, in the order of the hand from the plug to the appliance. */
export function CheckFields({ values, change }: { values: FormValues; change: Change }) {
  return (
    <>
      {checkNames.map((name) => (
        <CheckLine key={name} name={name} values={values} change={change} />
      ))}
    </>
  );
}

function CheckLine({ name, values, change }: { name: CheckName; values: FormValues; change: Change }) {
  const { words, look } = checkItems[name];
  const { verdict, note } = values.checks[name] ?? { verdict: null, note: "" };
  const set = (part: { verdict?: Verdict; note?: string }) => change({ checks: { ...values.checks, [name]: { verdict, note, ...part } } });
  return (
    <fieldset className={styles.check}>
      <legend>{words}</legend>
      <p className={`small soft ${styles.look}`}>{look}</p>
      <div className={styles.choices}>
        {verdicts.map((one) => (
          <label key={one}>
            <input type="radio" name={`check-${name}`} checked={verdict === one} onChange={() => set({ verdict: one })} />
            {one}
          </label>
        ))}
      </div>
      {verdict === "fail" && (
        <AreaField
          label={`What is wrong with: ${words.toLowerCase()}`}
          rows={2}
          maxLength={500}
          value={note}
          onChange={(event) => set({ note: event.target.value })}
        />
      )}
    </fieldset>
  );
}
