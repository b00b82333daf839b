"use client";

import Link from "next/link";
import { usePathname } from "next/navigation";
import { useCallback, useEffect, useState } from "react";
import { Button } from "@/app/_ui/button";
import styles from "./inspect.module.css";
import { allKept, forget, formAddress, type KeptInspection } from "./kept-inspections";
import { forgetOthersPages, registerWorker } from "./offline-pages";
import { outbox, sendAgain, sendAll } from "./sending";

/** How often what waits is tried again while the page is open. */
const retryMs = 20_000;

/** What is kept on this phone; sends by itself when a form is signed, when the connection is back, and every so often. */
export function OutboxBar({ userId }: { userId: string }) {
  const { kept, look, send } = useOutbox(userId);
  const path = usePathname();
  // A form that is being typed on this page needs no word about itself.
  const shown = kept.filter(({ state, applianceId }) => state !== "typing" || path !== `/inspect/${applianceId}`);
  if (shown.length === 0) return null;
  return (
    <section className={styles.outbox} aria-label="On this phone">
      {shown.map((one) => (
        <Line key={one.key} one={one} look={look} send={send} />
      ))}
    </section>
  );
}

function useOutbox(userId: string) {
  const [kept, setKept] = useState<readonly KeptInspection[]>([]);
  const look = useCallback(() => allKept(userId).then(setKept, () => setKept([])), [userId]);
  const send = useCallback(() => sendAll(userId).then(look, look), [userId, look]);
  useEffect(() => {
    void forgetOthersPages(userId).then(registerWorker);
    const again = () => void look().then(send);
    const seen = () => void look();
    again();
    const timer = setInterval(again, retryMs);
    window.addEventListener("online", again);
    outbox?.addEventListener("kept", again);
    outbox?.addEventListener("sent", seen);
    return () => {
      clearInterval(timer);
      window.removeEventListener("online", again);
      outbox?.removeEventListener("kept", again);
      outbox?.removeEventListener("sent", seen);
    };
  }, [userId, look, send]);
  return { kept, look, send };
}

interface LineProps {
  readonly one: KeptInspection;
  readonly look: () => Promise<void>;
  readonly send: () => Promise<void>;
}

function Line({ one, look, send }: LineProps) {
  const form = <Link href={formAddress(one)}>{one.tag}</Link>;
  if (one.state === "typing")
    return (
      <div>
        {form}: begun on this phone, not signed yet. <ThrowAway one={one} look={look} />
      </div>
    );
  if (one.state === "refused")
    return (
      <div role="alert">
        {form}: <b>signed, but refused.</b> {one.problem} Open it, mend it and sign again. <ThrowAway one={one} look={look} />
      </div>
    );
  if (one.state === "files refused") return <RefusedFiles one={one} look={look} send={send} />;
  return (
    <div role="status">
      {one.tag}: <b>kept on this phone, not sent yet.</b> {one.problem} It goes by itself once it can, while a page of this room is open.{" "}
      <Button type="button" look="quiet" onClick={() => void send()}>
        Try now
      </Button>
    </div>
  );
}

function RefusedFiles({ one, look, send }: LineProps) {
  return (
    <div role="alert">
      <Link href={`/inspect/done/${one.recordedId}`}>{one.tag}</Link>: <b>recorded, but not every photo was taken.</b>
      <ul>
        {one.photos.map((photo, place) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two photos of a phone may have one name
          <li key={`${photo.name} ${place}`}>
            {photo.name}: {photo.problem}{" "}
            <Button type="button" look="quiet" onClick={() => saveToPhone(photo.file, photo.name)}>
              Save it as a file
            </Button>
          </li>
        ))}
      </ul>
      <Button type="button" look="quiet" onClick={() => void sendAgain(one).then(send)}>
        Send them again
      </Button>{" "}
      <ThrowAway one={one} look={look} />
    </div>
  );
}

function saveToPhone(file: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  URL.revokeObjectURL(link.href);
}

/** Takes two presses: what is thrown away was nowhere else. */
function ThrowAway({ one, look }: Pick<LineProps, "one" | "look">) {
  const [sure, setSure] = useState(false);
  const drop = () => void forget(one.key).then(look);
  return (
    <Button type="button" look="quiet" onClick={sure ? drop : () => setSure(true)}>
      {sure ? "Yes, throw it away for good" : "Throw it away"}
    </Button>
  );
}
