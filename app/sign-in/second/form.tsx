"use client";

import { useActionState } from "react";
import { Button } from "@/app/_ui/button";
import { FieldStack, FormWord, TextField } from "@/app/_ui/field";
import { signInSecond } from "../actions";

export function SecondForm({ back }: { back: string }) {
  const [state, send, busy] = useActionState(signInSecond, { problem: null });
  return (
    <form action={send}>
      <FieldStack>
        <FormWord problem={state.problem ?? undefined} />
        <input type="hidden" name="back" value={back} />
        <TextField label="Code" name="code" code required autoComplete="one-time-code" autoFocus />
        <Button look="main" big disabled={busy}>
          {busy ? "Signing in ..." : "Sign in"}
        </Button>
      </FieldStack>
    </form>
  );
}
