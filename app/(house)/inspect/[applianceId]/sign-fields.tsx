"use client";

import { AreaField, CheckField, FieldStack, SelectField, TextField } from "@/app/_ui/field";
import { type InspectionEnvironment, inspectionIntervals, type NextDue } from "@/lib/casework/inspection-due";
import type { Judgement } from "@/lib/casework/inspection-judging";
import styles from "../_parts/inspect.module.css";
import type { FormValues } from "./form-values";
import { PhotoFields } from "./photo-fields";
import { SignaturePad } from "./signature-pad";
import type { Draft } from "./use-inspection-form";

interface Given {
  readonly draft: Draft;
  readonly change: (part: Partial<Draft>) => void;
  readonly correctsId: string | null;
}

/** What is said beside checks and figures. */
export function NoteFields({ draft, change, correctsId }: Given) {
  const { values } = draft;
  const set = (part: Partial<FormValues>) => change({ values: { ...values, ...part } });
  return (
    <FieldStack>
      {correctsId && (
        <TextField
          label="What was wrong with the inspection that this corrects"
          maxLength={500}
          value={values.correctionWhy}
          onChange={(event) => set({ correctionWhy: event.target.value })}
        />
      )}
      <SelectField
        label="Where it is used"
        value={values.environment}
        onChange={(event) => set({ environment: event.target.value as InspectionEnvironment })}
      >
        {Object.entries(inspectionIntervals).map(([name, { words }]) => (
          <option key={name} value={name}>
            {words}
          </option>
        ))}
      </SelectField>
      <TextField
        label="What could not be done, and why"
        hint="Empty when everything was done. Otherwise the inspection is limited."
        maxLength={500}
        value={values.limitedWhy}
        onChange={(event) => set({ limitedWhy: event.target.value })}
      />
      <AreaField label="Notes" rows={2} maxLength={2000} value={values.notes} onChange={(event) => set({ notes: event.target.value })} />
      <PhotoFields photos={draft.photos} change={(photos) => change({ photos })} />
    </FieldStack>
  );
}

/** The result as the form stands now. */
export function ResultWords({ judgement, due }: { judgement: Judgement; due: NextDue }) {
  return (
    <div className={styles.result} role="status">
      <p>
        <b>As entered: {judgement.result}.</b>{" "}
        {due.dueAt && judgement.result === "pass" && `Next due ${due.dueAt.toISOString().slice(0, 10)}: `}
        {due.why}
      </p>
      <ul className="small">
        {judgement.reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
    </div>
  );
}

/** The signature: the typed name, and a drawing where one wants to. */
export function SignatureFields({ draft, change, name, mayTakeOut }: Omit<Given, "correctsId"> & { name: string; mayTakeOut: boolean }) {
  const { values } = draft;
  const set = (part: Partial<FormValues>) => change({ values: { ...values, ...part } });
  return (
    <FieldStack>
      {mayTakeOut && (
        <CheckField
          label="Take it out of use now: unplug it and mark it DO NOT USE"
          checked={values.takeOutOfUse}
          onChange={(event) => set({ takeOutOfUse: event.target.checked })}
        />
      )}
      <TextField
        label="Your name, as signature"
        autoComplete="name"
        placeholder={name}
        maxLength={120}
        value={values.signedName}
        onChange={(event) => set({ signedName: event.target.value })}
      />
      <SignaturePad drawn={draft.signature} onDrawn={(signature) => change({ signature })} />
    </FieldStack>
  );
}
