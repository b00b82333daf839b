"use client";

import type { ReactNode } from "react";
import { Acts, Button } from "@/app/_ui/button";
import { AreaField, FieldColumns, FieldStack, FormWord, SelectField, TextField } from "@/app/_ui/field";
import { useKeptForm } from "@/app/_ui/use-kept-form";
import { comparedWords } from "../_parts/compared-words";
import { joinMakers, partMakers } from "./actions";

/** Two names that an administrator joins. */
export function JoinForm({ children }: { children: ReactNode }) {
  const { result, isPending, form } = useKeptForm(joinMakers);
  const errors = result && !result.ok ? result.fields : {};
  const isElsewhere = Object.keys(errors).length === 0;
  return (
    <form {...form}>
      {children}
      <FieldStack>
        <FieldColumns>
          <TextField label="This name" name="name" required maxLength={100} autoComplete="off" error={errors["name"]} />
          <SelectField label="and the other" name="relation" defaultValue="same" error={errors["relation"]}>
            <option value="same">is the same firm as</option>
            <option value="belongs">is a house brand of</option>
          </SelectField>
          <TextField label="That name" name="otherName" required maxLength={100} autoComplete="off" error={errors["otherName"]} />
        </FieldColumns>
        <TextField
          label="Where it is known from"
          name="origin"
          required
          maxLength={1000}
          hint="Such as: a plate that bears both names; the maker's letter of 3 March."
          error={errors["origin"]}
        />
        <AreaField label="Why it is added" name="reason" rows={2} required maxLength={1000} error={errors["reason"]} />
        <Acts>
          <Button look="main" disabled={isPending}>
            {isPending ? "Comparing…" : "Join them and compare again"}
          </Button>
        </Acts>
        <FormWord
          problem={result && !result.ok && isElsewhere ? result.problem : undefined}
          done={result?.ok ? comparedWords(result) : undefined}
        />
      </FieldStack>
    </form>
  );
}

/** Withdraws one alias, with its reason. */
export function PartForm({ aliasId }: { aliasId: string }) {
  const { result, isPending, form } = useKeptForm(partMakers);
  const errors = result && !result.ok ? result.fields : {};
  return (
    <form {...form}>
      <input type="hidden" name="aliasId" value={aliasId} />
      <FieldStack>
        <TextField label="Why it is withdrawn" name="reason" required maxLength={1000} error={errors["reason"]} />
        <Acts>
          <Button disabled={isPending}>{isPending ? "Comparing…" : "Withdraw and compare again"}</Button>
        </Acts>
        <FormWord
          problem={result && !result.ok && !errors["reason"] ? result.problem : undefined}
          done={result?.ok ? comparedWords(result) : undefined}
        />
      </FieldStack>
    </form>
  );
}
