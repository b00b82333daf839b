"use client";

import { Button } from "@/app/_ui/button";
import { CheckField, FormWord, TextField } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { type Grade, gradeWords } from "@/lib/matching/candidate";
import { answerCandidate } from "./actions";
import styles from "./review.module.css";

export interface AnswerFormProps {
  readonly candidateId: string;
  readonly field: string;
  readonly label: string;
  /** Answers that are values as they stand. */
  readonly ready: readonly { readonly value: string; readonly leadsTo: Grade }[];
  readonly suggestions: readonly string[];
  readonly isCode: boolean;
}

/** What is read off the appliance: a ready answer at one press, or typed; graded again at once. */
export function AnswerForm({ candidateId, field, label, ready, suggestions, isCode }: AnswerFormProps) {
  const { result, isPending, form } = useKeptForm(answerCandidate);
  const hidden = (
    <>
      <input type="hidden" name="candidateId" value={candidateId} />
      <input type="hidden" name="field" value={field} />
    </>
  );
  return (
    <div className={styles.answer}>
      {ready.length > 0 && (
        <form {...form} className={styles.ready}>
          {hidden}
          {ready.map(({ value, leadsTo }) => (
            <span key={value}>
              <Button big name="value" value={value} disabled={isPending}>
                {value}
              </Button>
              <span className="small soft">then: {gradeWords[leadsTo]}</span>
            </span>
          ))}
        </form>
      )}
      <form {...form} className={styles.typed}>
        {hidden}
        <TextField
          label={label}
          name="value"
          code={isCode}
          required
          maxLength={200}
          autoComplete="off"
          autoCapitalize={isCode ? "characters" : undefined}
          spellCheck={false}
          enterKeyHint="done"
          list={suggestions.length > 0 ? "answers" : undefined}
          error={result && !result.ok ? result.fields["value"] : undefined}
        />
        {suggestions.length > 0 && (
          <datalist id="answers">
            {suggestions.map((value) => (
              <option key={value} value={value} />
            ))}
          </datalist>
        )}
        <CheckField label="An occupant read it and told me: this may raise the grade, never clear it" name="source" value="occupant" />
        <Button look="main" big disabled={isPending}>
          {isPending ? "Comparing…" : "Record and compare again"}
        </Button>
      </form>
      <FormWord problem={result && !result.ok && !result.fields["value"] ? result.problem : undefined} />
    </div>
  );
}
