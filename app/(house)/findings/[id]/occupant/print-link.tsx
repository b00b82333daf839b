"use client";

import { toString as drawCode } from "qrcode";
import { useState } from "react";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { tell } from "./actions";
import styles from "./occupant.module.css";

interface Telling {
  readonly findingId: string;
  readonly version: number;
  readonly tenancyId: string;
  /** In the occupant's language: the words above the code. */
  readonly scanWords: string;
}

/** Makes the link of a printed notice, in its place in the letter. It is shown only now: print it before leaving the page. */
export function PrintLink({ findingId, version, tenancyId, scanWords }: Telling) {
  const [made, setMade] = useState<{ address: string; drawing: string } | null>(null);
  const make = async (_previous: unknown, form: FormData) => {
    const answer = await tell(form);
    if (answer.ok && answer.path !== null) {
      const address = `${window.location.origin}${answer.path}`;
      setMade({ address, drawing: await drawCode(address, { type: "svg", errorCorrectionLevel: "M", margin: 4 }) });
    }
    return answer;
  };
  if (made === null)
    return (
      <div className="noprint" lang="en">
        <ActionForm action={make}>
          <input type="hidden" name="findingId" value={findingId} />
          <input type="hidden" name="version" value={version} />
          <input type="hidden" name="tenancyId" value={tenancyId} />
          <input type="hidden" name="by" value="print" />
          <Acts>
            <Button look="plain">Make the link for printing</Button>
          </Acts>
        </ActionForm>
      </div>
    );
  return (
    <div className={styles.link}>
      <Code wrap>{made.address}</Code>
      <p>{scanWords}</p>
      {/* biome-ignore lint/performance/noImgElement: a drawing made here, without a file. */}
      <img src={`data:image/svg+xml,${encodeURIComponent(made.drawing)}`} alt={made.address} />
      <p className="noprint" lang="en">
        <b>Print this page now:</b> the link is shown only this once.{" "}
        <button type="button" onClick={() => window.print()}>
          Print
        </button>
      </p>
    </div>
  );
}
