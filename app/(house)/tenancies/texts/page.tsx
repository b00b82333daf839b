import type { Metadata } from "next";
import Link from "next/link";
import { requirePage } from "@/app/_server/page";
import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { AreaField } from "@/app/_ui/field";
import { PageHead } from "@/app/_ui/page-head";
import { Seen } from "@/app/_ui/seen";
import { SideSection } from "@/app/_ui/side-section";
import {
  asLanguage,
  type EditablePart,
  editableParts,
  noticeFields,
  occupantLanguages,
  occupantTexts,
} from "@/lib/casework/occupant-texts";
import { partsSeen, partTexts } from "@/lib/registry/occupant-notice-texts";
import { save } from "./actions";

interface Props {
  readonly searchParams: Promise<Record<string, string | string[]>>;
}

export const metadata: Metadata = { title: "Words to occupants" };

const partWords: Readonly<Record<EditablePart, string>> = {
  subject: "Subject",
  greeting_name: "Greeting",
  about: "What it is about",
  next: "What happens next",
  closing: "Closing",
};

export default async function TextsPage({ searchParams }: Props) {
  const { db, actor } = await requirePage("edit occupant texts");
  const language = asLanguage(String((await searchParams)["language"] ?? "en"));
  const parts = await partTexts(db, actor.organisationId, language);
  return (
    <>
      <PageHead
        title="Words to occupants"
        lead="The notice in your own words. The hazard, what to stop, the recall’s remedy and whom to call are put in by the program and stay as they are."
        crumbs={[{ label: "Building", href: "/building" }, { label: "words to occupants" }]}
      />
      <SideSection head="Language">
        <p>
          {occupantLanguages.map((other, at) => (
            <span key={other}>
              {at > 0 && ", "}
              {other === language ? (
                <b>{occupantTexts[other].language_name}</b>
              ) : (
                <Link href={`?language=${other}`}>{occupantTexts[other].language_name}</Link>
              )}
            </span>
          ))}
        </p>
      </SideSection>
      <SideSection
        head="Words"
        note={`Fields: ${noticeFields.map((name) => `{${name}}`).join(" ")}. An empty part goes back to the usual words.`}
      >
        <ActionForm action={save} done="Kept." key={language}>
          <input type="hidden" name="language" value={language} />
          <Seen values={partsSeen(parts)} />
          {editableParts.map((name) => (
            <AreaField
              key={`${name} ${parts[name].text}`}
              label={partWords[name]}
              name={name}
              rows={name === "subject" || name === "greeting_name" ? 2 : 4}
              defaultValue={parts[name].text}
              hint={parts[name].isOwn ? "Your own words." : "The usual words."}
              lang={language}
            />
          ))}
          <Acts>
            <Button look="main">Keep these words</Button>
          </Acts>
        </ActionForm>
      </SideSection>
    </>
  );
}
