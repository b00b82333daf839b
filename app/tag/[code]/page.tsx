import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { requireLink } from "@/app/_server/link";
import { occupantLanguage } from "@/app/_server/occupant-language";
import { currentActor } from "@/app/_server/session";
import { OccupantSheet } from "@/app/_ui/occupant-sheet";
import { SignalBanner } from "@/app/_ui/signal-banner";
import { type OccupantLanguage, speaker } from "@/lib/casework/occupant-texts";
import { callLines } from "@/lib/documents/occupant-letter";
import { type ScannedTag, scanTag } from "@/lib/registry/tag-scan";

export const metadata: Metadata = { title: { absolute: "Platewarden" }, referrer: "same-origin" };

interface Props {
  readonly params: Promise<{ code: string }>;
  readonly searchParams: Promise<Record<string, string | string[]>>;
}

/** What a tag says to whoever scans it: whom to call and whether to leave the appliance alone; one's own people go on to the appliance. */
export default async function TagPage({ params, searchParams }: Props) {
  const code = decoded((await params).code);
  const language = await occupantLanguage((await searchParams)["lang"]);
  const opened = await requireLink(async ({ db }) => scanTag(db, { code, actor: (await currentActor())?.actor ?? null }));
  const say = speaker(language);
  if (!opened.ok) return <OccupantSheet language={language} title={say("tag")} lead={say("tag_unknown")} />;
  if (opened.value.kind === "own") redirect(`/appliances/${opened.value.applianceId}`);
  return <Stranger shown={opened.value.shown} language={language} />;
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

function Stranger({ shown, language }: { shown: ScannedTag; language: OccupantLanguage }) {
  const say = speaker(language);
  const { tag, isUnsafe, contact } = shown;
  const other = language === "en" ? "de" : "en";
  return (
    <OccupantSheet language={language} title={say("tag_title", { tag })}>
      {isUnsafe && (
        <SignalBanner word="DANGER" text={say("word_DANGER")} stacked>
          <p>
            <b>{say("tag_do_not_use")}</b>
          </p>
          <p>{say("stop_unplug")}</p>
          <p>{say("stop_hot")}</p>
          <p>{say("stop_medical")}</p>
        </SignalBanner>
      )}
      <p>{say("tag_call")}</p>
      {callLines({ contact }, language).map((line) => (
        <p key={line}>{line}</p>
      ))}
      <p className="small">
        <a href={`?lang=${other}`} lang={other}>
          {say("other_language")}
        </a>
      </p>
    </OccupantSheet>
  );
}
