"use client";

import { toString as drawCode } from "qrcode";
import { useEffect, useState } from "react";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { TextField } from "@/app/_ui/field";
import styles from "./account.module.css";
import { confirmSecondStep, endSecondStep, prepareSecondStep } from "./actions";

interface Prepared {
  readonly totpURI: string;
  readonly backupCodes: readonly string[];
}

/** Sets the second step up, in three moves: the password, the secret and the codes to keep, and a first right code. */
export function SecondStep({ isOn }: { isOn: boolean }) {
  const [prepared, setPrepared] = useState<Prepared | null>(null);
  if (isOn) return <GiveUp />;
  if (prepared) return <Confirm prepared={prepared} />;
  const prepare = async (_previous: unknown, form: FormData) => {
    const answer = await prepareSecondStep(form);
    if (answer.ok) setPrepared(answer);
    return answer;
  };
  return (
    <div className={styles.narrow}>
      <ActionForm action={prepare}>
        <TextField label="Present password" name="present" type="password" autoComplete="current-password" required />
        <Acts>
          <Button>Set it up</Button>
        </Acts>
      </ActionForm>
    </div>
  );
}

function GiveUp() {
  return (
    <div className={styles.narrow}>
      <ActionForm action={endSecondStep}>
        <p>It is on: signing in with the password asks for a code too.</p>
        <TextField label="Present password" name="present" type="password" autoComplete="current-password" required />
        <Acts>
          <Button look="plain">Give it up</Button>
        </Acts>
      </ActionForm>
    </div>
  );
}

function Confirm({ prepared: { totpURI, backupCodes } }: { prepared: Prepared }) {
  const secret = new URL(totpURI).searchParams.get("secret") ?? "";
  return (
    <div className={styles.steps}>
      <p>1. Scan this with an authenticator, or type the secret into it.</p>
      <QrPicture text={totpURI} />
      <Code wrap>{secret}</Code>
      <p>2. Write these codes down. Each opens once, when the authenticator is lost. They are shown only now.</p>
      <ul className={styles.codes}>
        {backupCodes.map((code) => (
          <li key={code}>
            <Code>{code}</Code>
          </li>
        ))}
      </ul>
      <p>3. Give the six figures that it shows.</p>
      <ActionForm action={confirmSecondStep}>
        <TextField label="Code" name="code" code required autoComplete="one-time-code" inputMode="numeric" />
        <Acts>
          <Button look="main">Turn it on</Button>
        </Acts>
      </ActionForm>
    </div>
  );
}

/** The code drawn in the browser: the secret goes to nobody else. */
function QrPicture({ text }: { text: string }) {
  const [picture, setPicture] = useState<string | null>(null);
  useEffect(() => {
    void drawCode(text, { type: "svg", margin: 2 }).then((svg) => setPicture(`data:image/svg+xml,${encodeURIComponent(svg)}`));
  }, [text]);
  // biome-ignore lint/performance/noImgElement: it is drawn here and never leaves the page.
  return picture ? <img className={styles.picture} src={picture} alt="The secret as a QR code; it stands below as text too" /> : null;
}
