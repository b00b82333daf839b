"use client";

import type { ReactNode } from "react";
import { Acts, Button } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { FieldColumns, FieldStack, FormWord, NamedOptions, SelectField, TextField } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { makeKey } from "./actions";

/** Makes a key and shows it this once. Works without a script, too: the answer then comes with the page. */
export function NewKeyForm({ sites, children }: { sites: readonly { readonly id: string; readonly name: string }[]; children: ReactNode }) {
  const { result: answer, isPending, form } = useKeptForm(makeKey);
  const failed = answer?.ok === false ? answer : null;
  return (
    <form {...form}>
      {children}
      <FieldStack>
        <FormWord
          problem={failed?.problem}
          done={answer?.ok ? "The key was made. Copy it now: it is shown this once and cannot be shown again." : undefined}
        />
        {answer?.ok && (
          <p>
            <Code wrap>{answer.token}</Code>
          </p>
        )}
        <FieldColumns>
          <SelectField label="Site" name="siteId" required error={failed?.fields["siteId"]} hint="The key opens this site alone.">
            <NamedOptions list={sites} />
          </SelectField>
          <TextField
            label="Name"
            name="name"
            required
            maxLength={80}
            autoComplete="off"
            hint="What sends with it, such as the gateway in the cellar."
            error={failed?.fields["name"]}
          />
        </FieldColumns>
        <Acts>
          <Button look="main" disabled={isPending}>
            Make a key
          </Button>
        </Acts>
      </FieldStack>
    </form>
  );
}
