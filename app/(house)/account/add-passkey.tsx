"use client";

import { browserSupportsWebAuthn, type PublicKeyCredentialCreationOptionsJSON, startRegistration } from "@simplewebauthn/browser";
import { useRouter } from "next/navigation";
import { type FormEvent, useState, useSyncExternalStore } from "react";
import { Acts, Button } from "@/app/_ui/button";
import { FieldStack, FormWord, TextField } from "@/app/_ui/field";
import styles from "./account.module.css";

const never = () => () => {};

async function addPasskey(name: string): Promise<string | null> {
  const asked = await fetch(`/api/auth/passkey/generate-register-options?${new URLSearchParams({ name })}`);
  if (!asked.ok) return "Passkeys cannot be added right now: sign in again, then try again.";
  const response = await startRegistration({ optionsJSON: (await asked.json()) as PublicKeyCredentialCreationOptionsJSON }).catch(
    () => null,
  );
  if (!response) return "No passkey was made: the device refused, or it has one for this account already.";
  const answer = await fetch("/api/auth/passkey/verify-registration", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ response, name }),
  });
  return answer.ok ? null : "The passkey could not be checked: try again.";
}

/** Makes a passkey on this device, where the browser can. */
export function AddPasskey() {
  const router = useRouter();
  const [problem, setProblem] = useState<string | null>(null);
  const can = useSyncExternalStore(never, browserSupportsWebAuthn, () => false);
  if (!can) return <p className="soft">This browser, at this address, cannot keep passkeys.</p>;
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const typed = new FormData(event.currentTarget).get("name");
    const name = typeof typed === "string" ? typed : "";
    const said = await addPasskey(name);
    setProblem(said);
    if (said === null) router.refresh();
  };
  return (
    <form onSubmit={submit} className={styles.narrow}>
      <FieldStack>
        <FormWord problem={problem ?? undefined} />
        <TextField label="Name of the device" name="name" required maxLength={60} autoComplete="off" />
        <Acts>
          <Button look="plain">Add a passkey</Button>
        </Acts>
      </FieldStack>
    </form>
  );
}
