"use client";

import type { ActionResult } from "@/app/_server/action";
import { Acts, Button } from "@/app/_ui/button";
import { AreaField, FieldStack, FormWord } from "@/app/_ui/field";
import { type FormWork, useKeptForm } from "@/app/_ui/use-kept-form";
import { type Compared, comparedWords } from "../_parts/compared-words";
import { dismissWords, takeOut, withdraw } from "./actions";

const works: Readonly<
  Record<"takeOut" | "dismiss" | "withdraw", { readonly send: FormWork<ActionResult<Compared>>; readonly words: string }>
> = {
  takeOut: { send: takeOut, words: "Take it out and compare again" },
  dismiss: { send: dismissWords, words: "Nothing to compare in it" },
  withdraw: { send: withdraw, words: "Withdraw it and compare again" },
};

export interface ReasonFormProps {
  readonly work: keyof typeof works;
  /** What the action needs beside the reason. */
  readonly hidden: Readonly<Record<string, string>>;
  readonly label: string;
}

/** A step of a correction that asks for nothing but its reason. */
export function ReasonForm({ work, hidden, label }: ReasonFormProps) {
  const { send, words } = works[work];
  const { result, isPending, form } = useKeptForm(send);
  const fields = result && !result.ok ? result.fields : {};
  return (
    <form {...form}>
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <FieldStack>
        <AreaField label={label} name="reason" rows={2} required maxLength={2000} error={fields["reason"]} />
        <Acts>
          <Button look={work === "dismiss" ? "plain" : "main"} disabled={isPending}>
            {isPending ? "Comparing…" : words}
          </Button>
        </Acts>
        <FormWord
          problem={result && !result.ok && !fields["reason"] ? result.problem : undefined}
          done={result?.ok ? comparedWords(result) : undefined}
        />
      </FieldStack>
    </form>
  );
}
