"use client";

import { browserSupportsWebAuthn, type PublicKeyCredentialRequestOptionsJSON, startAuthentication } from "@simplewebauthn/browser";
import { useState, useSyncExternalStore } from "react";
import { Button } from "@/app/_ui/button";
import { FormWord } from "@/app/_ui/field";
import styles from "./sign-in.module.css";

const never = () => () => {};

async function signInByPasskey(): Promise<string | null> {
  const asked = await fetch("/api/auth/passkey/generate-authenticate-options");
  if (!asked.ok) return "Passkeys cannot be used right now: sign in with your password.";
  const response = await startAuthentication({ optionsJSON: (await asked.json()) as PublicKeyCredentialRequestOptionsJSON }).catch(
    () => null,
  );
  if (!response) return "No passkey was used: try again, or sign in with your password.";
  const answer = await fetch("/api/auth/passkey/verify-authentication", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ response }),
  });
  if (answer.ok) return null;
  const said = (await answer.json().catch(() => null)) as { message?: string } | null;
  return answer.status === 403 && said?.message ? said.message : "This passkey is not known here: sign in with your password.";
}

/** Signing in with a passkey, where the browser can. */
export function PasskeyButton({ back }: { back: string }) {
  const [problem, setProblem] = useState<string | null>(null);
  const can = useSyncExternalStore(never, browserSupportsWebAuthn, () => false);
  if (!can) return null;
  const press = async () => {
    const said = await signInByPasskey();
    setProblem(said);
    if (said === null) window.location.assign(back);
  };
  return (
    <div className={styles.other}>
      <FormWord problem={problem ?? undefined} />
      <Button type="button" look="plain" onClick={press}>
        Use a passkey
      </Button>
    </div>
  );
}
