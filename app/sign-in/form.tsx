"use client";

import { useActionState } from "react";
import { Button } from "@/app/_ui/button";
import { FieldStack, FormWord, TextField } from "@/app/_ui/field";
import { signIn } from "./actions";

export function SignInForm({ back }: { back: string }) {
  const [state, send, busy] = useActionState(signIn, { problem: null, email: "" });
  return (
    <form action={send}>
      <FieldStack>
        <FormWord problem={state.problem ?? undefined} />
        <input type="hidden" name="back" value={back} />
        <TextField
          label="E-mail address"
          name="email"
          type="email"
          autoComplete="username"
          required
          defaultValue={state.email}
          key={state.email}
        />
        <TextField label="Password" name="password" type="password" autoComplete="current-password" required />
        <Button look="main" big disabled={busy}>
          {busy ? "Signing in ..." : "Sign in"}
        </Button>
      </FieldStack>
    </form>
  );
}
