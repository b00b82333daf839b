"use client";

import { CheckField, FieldColumns, FieldStack, SelectField, TextField } from "@/app/_ui/field";
import { type FigureName, figureNames, figureRules, judgeFigure } from "@/lib/casework/inspection-judging";
import styles from "../_parts/inspect.module.css";
import { LastDay } from "../_parts/last-day";
import { type FormValues, figureIn, isMistyped } from "./form-values";
import { factsIn, type JudgedBy } from "./judging";

interface Given {
  readonly values: FormValues;
  readonly change: (part: Partial<FormValues>) => void;
  readonly by: JudgedBy;
}

const notAFigure = "Write a figure, such as 0.12.";

/** Figures and what they are judged by; each is held against its limit while it is typed. */
export function MeasureFields({ values, change, by }: Given) {
  return (
    <FieldStack>
      <Cord values={values} change={change} />
      <FieldColumns>
        {figureNames
          .filter((name) => isAsked(name, values))
          .map((name) => (
            <FigureField key={name} name={name} values={values} change={change} by={by} />
          ))}
      </FieldColumns>
      <FieldColumns>
        <FoundField label="Polarity" value={values.polarity} set={(polarity) => change({ polarity })} />
        <FoundField label="Works as it should" value={values.functional} set={(functional) => change({ functional })} />
      </FieldColumns>
      <Instruments values={values} change={change} by={by} />
    </FieldStack>
  );
}

/** What the limits depend on. */
function Cord({ values, change }: Omit<Given, "by">) {
  const figure = (name: "cordMetres" | "cordSquareMillimetres", label: string, hint: string) => (
    <TextField
      label={label}
      hint={hint}
      inputMode="decimal"
      value={values[name]}
      error={isMistyped(values[name]) ? notAFigure : undefined}
      onChange={(event) => change({ [name]: event.target.value })}
    />
  );
  return (
    <>
      <FieldColumns>
        <SelectField
          label="Protection class"
          value={values.protectionClass}
          onChange={(event) => change({ protectionClass: event.target.value })}
          hint="I has an earth, II a square in a square, III runs on safety extra-low voltage."
        >
          <option value="">not known</option>
          <option value="I">Class I</option>
          <option value="II">Class II</option>
          <option value="III">Class III</option>
        </SelectField>
        {figure("cordMetres", "Cord length, m", "A longer cord may have more resistance.")}
        {figure("cordSquareMillimetres", "Cord cross-section, mm2", "As printed on the cord; empty if not.")}
      </FieldColumns>
      <CheckField
        label="Held in the hand when used"
        checked={values.isHandHeld}
        onChange={(event) => change({ isHandHeld: event.target.checked })}
      />
    </>
  );
}

/** Class II and III have no protective conductor; a figure that was typed before the class was set stays visible. */
function isAsked(name: FigureName, values: FormValues): boolean {
  const earth = name === "conductorOhms" || name === "conductorMilliamps";
  const unearthed = values.protectionClass === "II" || values.protectionClass === "III";
  return !(earth && unearthed) || (values.figures[name] ?? "") !== "";
}

function FigureField({ name, values, change, by }: Given & { name: FigureName }) {
  const typed = values.figures[name] ?? "";
  const facts = factsIn(values, by.plate);
  const limit = figureRules[name].limit(by.standard, facts);
  return (
    <div>
      <TextField
        label={`${figureRules[name].words}, ${limit.unit}`}
        inputMode="decimal"
        value={typed}
        hint={limit.rule}
        error={isMistyped(typed) ? notAFigure : undefined}
        onChange={(event) => change({ figures: { ...values.figures, [name]: event.target.value } })}
      />
      <p className={styles.judged} role="status">
        <Judged name={name} value={figureIn(typed)} by={{ standard: by.standard, facts }} />
      </p>
    </div>
  );
}

function Judged({ name, value, by }: { name: FigureName; value: number | null; by: Parameters<typeof judgeFigure>[2] }) {
  if (value === null) return null;
  const { within, limit, unit } = judgeFigure(name, value, by);
  if (within) return `Within the limit of ${limit} ${unit}.`;
  return (
    <b className="over">
      Outside the limit of {limit} {unit}: fail.
    </b>
  );
}

function FoundField({ label, value, set }: { label: string; value: string; set: (value: string) => void }) {
  return (
    <SelectField label={label} value={value} onChange={(event) => set(event.target.value)}>
      <option value="">not tried</option>
      <option value="pass">pass</option>
      <option value="fail">fail</option>
    </SelectField>
  );
}

function Instruments({ values, change, by: { instruments } }: Given) {
  const others = (id: string) => values.instrumentIds.filter((one) => one !== id);
  return (
    <fieldset className={styles.check}>
      <legend>Instruments used</legend>
      <div className={styles.look}>
        {instruments.length === 0 && <p className="small soft">None is entered: figures without one make the inspection limited.</p>}
        {instruments.map(({ id, words, validUntil }) => (
          <CheckField
            key={id}
            label={
              <>
                {words}, calibrated until <LastDay at={validUntil} none="without end" now={new Date()} />
              </>
            }
            checked={values.instrumentIds.includes(id)}
            onChange={(event) => change({ instrumentIds: event.target.checked ? [...others(id), id] : others(id) })}
          />
        ))}
      </div>
    </fieldset>
  );
}
