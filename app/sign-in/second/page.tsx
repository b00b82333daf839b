import type { Metadata } from "next";
import Link from "next/link";
import { redirect } from "next/navigation";
import { currentActor } from "@/app/_server/session";
import { DoorSheet, SmallPrint } from "@/app/_ui/door-sheet";
import { safeWayBack } from "../way-back";
import { SecondForm } from "./form";

export const metadata: Metadata = { title: "Second step" };

export default async function SecondStepPage({ searchParams }: { searchParams: Promise<{ back?: string | string[] }> }) {
  const wayBack = safeWayBack((await searchParams).back);
  if (await currentActor()) redirect(wayBack);
  return (
    <DoorSheet title="Second step" lead="Give the six figures that your authenticator shows now, or one of the codes you kept.">
      <SecondForm back={wayBack} />
      <SmallPrint>
        Neither at hand? An administrator of your organisation can help. <Link href="/sign-in">Start again</Link>
      </SmallPrint>
    </DoorSheet>
  );
}
