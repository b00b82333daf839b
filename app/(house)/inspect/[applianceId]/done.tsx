"use client";

import Link from "next/link";
import { Acts, ButtonLink } from "@/app/_ui/button";
import { SideSection } from "@/app/_ui/side-section";
import styles from "../_parts/inspect.module.css";
import type { KeptPhoto } from "../_parts/kept-inspections";
import type { Recorded } from "../_parts/sending";

const resultWords: Readonly<Record<string, string>> = {
  pass: "Passed. That nothing was found is no proof that it will stay so.",
  limited: "Limited: nothing wrong was found, but it was not complete, so the due date stays.",
  fail: "Failed. Unplug it, mark it DO NOT USE, and have it repaired by somebody competent, replaced or removed.",
};

interface Onward {
  readonly applianceId: string;
  /** Where to go on, such as the round. */
  readonly back: string | null;
}

/** Said when the server has the inspection. */
export function RecordedWords(props: Onward & { recorded: Recorded; refusedFiles: readonly KeptPhoto[] }) {
  const { recorded, refusedFiles } = props;
  return (
    <SideSection head="Recorded">
      <div className={styles.result} role="status">
        <p>
          <b>{resultWords[recorded.result] ?? recorded.result}</b>
        </p>
        <ul className="small">
          {recorded.reasons.map((reason) => (
            <li key={reason}>{reason}</li>
          ))}
        </ul>
        {recorded.nextDueAt && <p>Next due {recorded.nextDueAt.slice(0, 10)}.</p>}
        {recorded.again && <p className="small soft">It had arrived before; it is recorded once.</p>}
        {refusedFiles.length > 0 && <p className="over">A photo was not taken: it is still on this phone, with the reason above.</p>}
      </div>
      <p>
        <Link href={`/inspect/done/${recorded.id}`}>The inspection as recorded</Link>
        {recorded.findingId && (
          <>
            {" · "}
            <Link href={`/findings/${recorded.findingId}`}>Its finding</Link>
          </>
        )}
      </p>
      <OnwardLinks {...props} />
    </SideSection>
  );
}

/** Said while it waits on the phone. */
export function WaitingWords(props: Onward & { why: string | null }) {
  return (
    <SideSection head="Signed">
      <p role="status">
        <b>Kept on this phone, not sent yet.</b> {props.why} It goes by itself once it can.
      </p>
      <OnwardLinks {...props} />
    </SideSection>
  );
}

function OnwardLinks({ back, applianceId }: Onward) {
  return (
    <Acts>
      {back && (
        <ButtonLink href={back} look="main">
          Back to the round
        </ButtonLink>
      )}
      <ButtonLink href="/inspect">Next tag</ButtonLink>
      <ButtonLink href={`/appliances/${applianceId}`} look="quiet">
        The appliance
      </ButtonLink>
    </Acts>
  );
}
