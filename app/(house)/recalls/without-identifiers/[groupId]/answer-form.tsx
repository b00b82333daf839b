"use client";

import { type FormEvent, type ReactNode, useState } from "react";
import { Acts, Button } from "@/app/_ui/button";
import { AreaField, FormWord } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { sayForGroup } from "./actions";
import styles from "./group.module.css";

export interface GroupFormProps {
  readonly groupId: string;
  readonly seen: string;
  readonly waiting: number;
  readonly signer: string;
  /** The list of the appliances that wait, each with its tick. */
  readonly children: ReactNode;
}

interface Choice {
  readonly answer: string | null;
  readonly chosen: number;
}

const nothing: Choice = { answer: null, chosen: 0 };

function buttonWords({ answer, chosen }: Choice, waiting: number): string {
  if (answer === "look") return chosen === 0 ? "Choose the appliances that may be meant" : `Look at ${chosen}, the others are not meant`;
  return waiting === 0 ? "Answer for the group" : `Answer for ${waiting === 1 ? "this one" : `these ${waiting}`}`;
}

/** One answer for all that waits: none is meant, or the ticked ones may be. */
export function GroupForm({ groupId, seen, waiting, signer, children }: GroupFormProps) {
  const { result, isPending, form } = useKeptForm(sayForGroup);
  const [choice, setChoice] = useState<Choice>(nothing);
  const look = (event: FormEvent<HTMLFormElement>) => {
    const given = new FormData(event.currentTarget);
    const answer = given.get("answer");
    setChoice({ answer: typeof answer === "string" ? answer : null, chosen: new Set(given.getAll("applianceIds")).size });
  };
  const fields = result && !result.ok ? result.fields : {};
  return (
    <form {...form} onChange={look} onReset={() => setChoice(nothing)} className={styles.form}>
      <input type="hidden" name="groupId" value={groupId} />
      <input type="hidden" name="seen" value={seen} />
      <fieldset className={styles.options}>
        <legend className="vh">Answer</legend>
        <label>
          <input type="radio" name="answer" value="none" required />
          <span>
            <b>We have none of these</b>{" "}
            {waiting === 0 ? "nothing of that maker and kind is here" : "whatever waits below is another product"}
          </span>
        </label>
        {waiting > 0 && (
          <label>
            <input type="radio" name="answer" value="look" />
            <span>
              <b>The ticked ones may be meant</b> each is put down to be looked at, and treated as covered until then; the others are not
              meant
            </span>
          </label>
        )}
      </fieldset>
      {children}
      <AreaField
        label="How you know it, for the record"
        name="reason"
        rows={3}
        required
        maxLength={2000}
        hint="Such as: compared with the pictures at the regulator's site; all fans here are wall fans."
        error={fields["reason"]}
      />
      <Acts>
        <Button look="main" disabled={isPending || (choice.answer === "look" && choice.chosen === 0)}>
          {buttonWords(choice, waiting)}
        </Button>
      </Acts>
      <FormWord problem={result && !result.ok ? result.problem : undefined} done={result?.ok ? doneWords(result) : undefined} />
      <p className="small soft">
        Signed {signer}. Stands until one of the notices is amended; an appliance that comes in later asks by itself.
      </p>
    </form>
  );
}

function doneWords({ notAffected, toLookAt }: { notAffected: number; toLookAt: number }): string {
  return toLookAt === 0
    ? `Answered; ${notAffected} settled as not meant.`
    : `Answered; ${toLookAt} to be looked at, ${notAffected} settled as not meant.`;
}
