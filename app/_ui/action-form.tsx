"use client";

import { type ReactNode, useActionState } from "react";
import { FieldStack, FormWord } from "./field";

/** What a wrapped server action answers, as far as a form shows it. */
export type FormAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly problem: string; readonly fields: Readonly<Record<string, string>> };
type FormWork = (previous: FormAnswer | null, form: FormData) => Promise<FormAnswer>;

/** A form for a server action made by `action(...)`: shows its one sentence, or `done` when it succeeded. Works without a script. */
export function ActionForm({ action, done, children }: { action: FormWork; done?: string; children: ReactNode }) {
  const [answer, send, busy] = useActionState(action, null);
  const failed = answer?.ok === false ? answer : null;
  const fields = Object.entries(failed?.fields ?? {});
  return (
    <form action={send} aria-busy={busy}>
      <FieldStack>
        <FormWord problem={failed?.problem} done={answer?.ok ? done : undefined} />
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
