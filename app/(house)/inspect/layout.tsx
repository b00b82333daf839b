import type { ReactNode } from "react";
import { requireSignedIn } from "@/app/_server/page";
import { OutboxBar } from "./_parts/outbox-bar";

/** Every page of the room shows what is kept on the phone and sends it. */
export default async function InspectLayout({ children }: { children: ReactNode }) {
  const { actor } = await requireSignedIn();
  return (
    <>
      {actor.userId !== null && <OutboxBar userId={actor.userId} />}
      {children}
    </>
  );
}
