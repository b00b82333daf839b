"use client";

import { type FormEvent, type ReactNode, startTransition, useActionState, useEffect, useRef, useState, useTransition } from "react";
import type { Meanwhile } from "@/lib/access/changed-meanwhile";
import { FieldStack, FormWord } from "./field";
import { answerOf } from "./lost-answer";
import { MeanwhileWords } from "./meanwhile";

/** What a wrapped server action answers, as far as a form shows it. */
export type FormAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly problem: string;
      readonly fields: Readonly<Record<string, string>>;
      readonly meanwhile?: Meanwhile;
    };
type FormWork = (previous: FormAnswer | null, form: FormData) => Promise<FormAnswer>;

/**
 * A form for a server action made by `action(...)`: shows its one sentence, or `done` when it succeeded. Works without a script. With
 * one, what was typed stays when the answer is no or none comes (a plain form action would empty the fields, a lost connection the
 * page), and a second press is not sent.
 */
export function ActionForm({ action, done, children }: { action: FormWork; done?: string; children: ReactNode }) {
  const [plainAnswer, sendPlainly] = useActionState(action, null);
  const [scriptAnswer, setAnswer] = useState<FormAnswer | null>(null);
  const [busy, startSending] = useTransition();
  const answer = scriptAnswer ?? plainAnswer;
  const failed = answer?.ok === false ? answer : null;
  const fields = Object.entries(failed?.fields ?? {});
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (answer?.ok) form.current?.reset();
  }, [answer]);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (busy) return;
    const submitter = (event.nativeEvent as SubmitEvent).submitter;
    const typed = new FormData(event.currentTarget, submitter);
    startSending(async () => {
      const got = await answerOf(() => action(answer, typed));
      startTransition(() => setAnswer(got));
    });
  };
  return (
    <form ref={form} action={sendPlainly} onSubmit={submit} aria-busy={busy}>
      <FieldStack>
        <FormWord problem={failed?.problem} done={answer?.ok ? done : undefined} />
        {failed?.meanwhile && <MeanwhileWords form={form.current} meanwhile={failed.meanwhile} />}
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
