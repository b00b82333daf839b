import type { Metadata } from "next";
import { requireLink } from "@/app/_server/link";
import { occupantLanguage } from "@/app/_server/occupant-language";
import { DefinitionList } from "@/app/_ui/definition-list";
import { LetterPart, OccupantSheet } from "@/app/_ui/occupant-sheet";
import { asLanguage, speaker } from "@/lib/casework/occupant-texts";
import { filesForGuest } from "@/lib/documents/guest-files";
import { callLines, placeWords, recallQuotes, warningBlock } from "@/lib/documents/occupant-letter";
import { type OccupantCase, readForOccupant } from "@/lib/registry/occupant-link";
import { Photos, Question, Unplugged } from "./forms";

export const metadata: Metadata = { title: { absolute: "Platewarden" }, referrer: "same-origin" };

interface Props {
  readonly params: Promise<{ token: string }>;
  readonly searchParams: Promise<Record<string, string | string[]>>;
}

/** An occupant's own appliance: what to do, and three things they can tell. Opening it changes nothing. */
export default async function OccupantPage({ params, searchParams }: Props) {
  const { token } = await params;
  const opened = await requireLink(async ({ db, now }) => ({
    ...(await readForOccupant(db, { token, now })),
    files: await filesForGuest(db, { kind: "occupant", token, now }),
  }));
  if (!opened.ok) return <Closed isUnknown={/not one of ours/.test(opened.problem)} />;
  const { files, ...found } = opened.value;
  const language = asLanguage(found.language);
  const say = speaker(language);
  const bearer = { token, language };
  const hasFailed = (await searchParams)["photo"] === "failed";
  return (
    <OccupantSheet language={language} title={say("page_title")} lead={say("page_lead", { organisation: found.organisation })}>
      {found.isSettled ? <p>{say("page_settled")}</p> : <LetterPart block={warningBlock(found, language)} />}
      <OwnAppliance found={found} />
      {recallQuotes(found, language).map((block) => (
        <LetterPart key={block.head} block={block} />
      ))}
      <LetterPart block={{ kind: "call", lines: callLines(found, language) }} />
      {!found.isSettled && <Unplugged bearer={bearer} opened={found} />}
      {found.question && <Question bearer={bearer} question={found.question} />}
      <Photos bearer={bearer} photos={files} timeZone={found.shown.timeZone} hasFailed={hasFailed} />
    </OccupantSheet>
  );
}

function OwnAppliance({ found }: { found: OccupantCase }) {
  const language = asLanguage(found.language);
  const say = speaker(language);
  const { category, brand, model, serial, tag } = found.shown.appliance;
  const entry = (term: string, value: string | null): [string, string] | null => (value ? [term, value] : null);
  return (
    <DefinitionList
      entries={[
        entry(say("what"), category),
        entry(say("maker"), brand),
        entry(say("model"), model),
        entry(say("serial"), serial),
        [say("tag"), tag],
        [say("where"), placeWords(found, language)],
      ]}
    />
  );
}

async function Closed({ isUnknown }: { isUnknown: boolean }) {
  const language = await occupantLanguage(undefined);
  const say = speaker(language);
  return <OccupantSheet language={language} title={say("page_title")} lead={say(isUnknown ? "page_unknown" : "page_closed")} />;
}
