"use client";

import type { ReactNode } from "react";
import type { Meanwhile } from "@/lib/access/changed-meanwhile";
import { FieldStack, FormWord } from "./field";
import { MeanwhileWords } from "./meanwhile";
import { type FormWork, useKeptForm } from "./use-kept-form";

/** What a wrapped server action answers, as far as a form shows it. */
export type FormAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly problem: string;
      readonly fields: Readonly<Record<string, string>>;
      readonly meanwhile?: Meanwhile;
    };

/**
 * A form for a server action made by `action(...)`: shows its one sentence, or `done` when it succeeded. Works without a script. With
 * one, what was typed stays when the answer is no or none comes (a plain form action would empty the fields, a lost connection the
 * page), and a second press is not sent.
 */
export function ActionForm({ action, done, children }: { action: FormWork<FormAnswer>; done?: string; children: ReactNode }) {
  const { result, sent, form } = useKeptForm<FormAnswer>(action);
  const failed = result?.ok === false ? result : null;
  const fields = Object.entries(failed?.fields ?? {});
  return (
    <form {...form}>
      <FieldStack>
        <FormWord problem={failed?.problem} done={result?.ok ? done : undefined} />
        {failed?.meanwhile && <MeanwhileWords form={sent.current} meanwhile={failed.meanwhile} />}
        {fields.length > 1 && (
          <ul>
            {fields.map(([name, sentence]) => (
              <li key={name}>
                {name}: {sentence}
              </li>
            ))}
          </ul>
        )}
        {children}
      </FieldStack>
    </form>
  );
}
