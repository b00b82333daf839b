import {
  type EditablePart,
  fillText,
  type NoticeField,
  type OccupantLanguage,
  occupantTexts,
  plainValue,
  speaker,
} from "@/lib/casework/occupant-texts";
import type { NoticeFacts } from "@/lib/registry/occupant-notice";
import type { SignalWord } from "@/lib/watch/screening-result";
import type { MailText } from "./account-mail";

/** A part of the letter. Warnings, remedy and whom to call are put in by the program, whatever an organisation words itself. */
export type LetterBlock =
  | { readonly kind: "text"; readonly lines: readonly string[] }
  | {
      readonly kind: "warning";
      readonly word: SignalWord;
      readonly wordText: string;
      readonly first: string;
      readonly lines: readonly string[];
    }
  | { readonly kind: "quote"; readonly head: string; readonly words: string }
  | { readonly kind: "call"; readonly lines: readonly string[] }
  | { readonly kind: "link"; readonly words: string };

export interface Letter {
  readonly language: OccupantLanguage;
  readonly subject: string;
  readonly blocks: readonly LetterBlock[];
}

export interface LetterWish {
  readonly facts: NoticeFacts;
  readonly language: OccupantLanguage;
  /** The occupant; empty where the name is not known. */
  readonly name: string;
  /** An organisation's own wording of some parts. */
  readonly own: Readonly<Partial<Record<EditablePart, string>>>;
}

/** What the appliance is called: kind, maker and model, as far as they are known. */
export function applianceWords({ shown: { appliance } }: Pick<NoticeFacts, "shown">, language: OccupantLanguage): string {
  const known = [appliance.category, appliance.brand, appliance.model].filter(Boolean).join(" ");
  return known || occupantTexts[language].an_appliance;
}

/** Where it is: unit and site. */
export function placeWords({ shown: { place } }: Pick<NoticeFacts, "shown">, language: OccupantLanguage): string {
  const unit = place.unit === null ? null : speaker(language)("unit", { unit: place.unit });
  return [unit, place.site].filter(Boolean).join(", ");
}

/** Whether the word asks to stop at once, or to take care. */
export const isGrave = (word: SignalWord) => word === "DANGER" || word === "WARNING";

/** The hazard and what to do: the block that no wording of an organisation's touches. */
export function warningBlock(
  { shown }: Pick<NoticeFacts, "shown">,
  language: OccupantLanguage,
): LetterBlock & { readonly kind: "warning" } {
  const say = speaker(language);
  const { cause, signalWord: word } = shown.facts;
  const hazard = say(`hazard ${cause}`);
  const lines = isGrave(word)
    ? [say("stop_unplug"), hazard, say("stop_hot"), say("stop_medical"), say("stop_keep")]
    : [hazard, say("care_stop"), say("care_breaker")];
  return { kind: "warning", word, wordText: say(`word_${word}`), first: say(isGrave(word) ? "stop" : "care"), lines };
}

type CalledContact = Pick<NonNullable<NoticeFacts["contact"]>, "name" | "phone" | "email">;

/** Whom to call, and whom before that in a fire. */
export function callLines({ contact }: { readonly contact: CalledContact | null }, language: OccupantLanguage): string[] {
  const say = speaker(language);
  if (!contact) return [say("call_nobody"), say("fire")];
  const { name, phone, email } = contact;
  return [say("call", { contact: name, phone }), ...(email ? [say("call_mail", { email })] : []), say("fire")];
}

const longestQuote = 1200;

/** What the recall says, in its publisher's own words. */
export function recallQuotes({ recall }: Pick<NoticeFacts, "recall">, language: OccupantLanguage): (LetterBlock & { kind: "quote" })[] {
  if (!recall) return [];
  const say = speaker(language);
  const quote = (head: string, words: string | null) =>
    words?.trim() ? [{ kind: "quote" as const, head, words: plainValue(words).slice(0, longestQuote) }] : [];
  return [
    ...quote(say("hazard_words"), recall.hazard),
    ...quote(say("remedy", { number: recall.number }), recall.remedy),
    ...quote(say("remedy_contact"), recall.contact),
  ];
}

/** The notice to an occupant, in one language. */
export function composeLetter({ facts, language, name, own }: LetterWish): Letter {
  const texts = occupantTexts[language];
  const values: Record<NoticeField, string> = {
    name,
    appliance: applianceWords(facts, language),
    tag: facts.shown.appliance.tag,
    place: placeWords(facts, language),
    organisation: facts.organisation,
    contact: facts.contact?.name ?? "",
    phone: facts.contact?.phone ?? "",
  };
  const part = (name: EditablePart) => fillText(own[name] ?? texts[name], values);
  const text = (words: string): LetterBlock => ({ kind: "text", lines: words.split("\n").filter((line) => line.trim() !== "") });
  const grave = isGrave(facts.shown.facts.signalWord);
  return {
    language,
    subject: grave ? part("subject") : fillText(texts.subject_mild, values),
    blocks: [
      text(name === "" ? texts.greeting : part("greeting_name")),
      warningBlock(facts, language),
      text(part("about")),
      ...recallQuotes(facts, language),
      text(part("next")),
      { kind: "call", lines: callLines(facts, language) },
      { kind: "link", words: texts.link_words },
      text(part("closing")),
      text(texts.small_print),
    ],
  };
}

function blockText(block: LetterBlock, link: string): string {
  if (block.kind === "warning") return [`${block.wordText}! ${block.first}`, ...block.lines].join("\n");
  if (block.kind === "quote") return `${block.head}\n  ${block.words}`;
  if (block.kind === "link") return `${block.words}\n${link}`;
  return block.lines.join("\n");
}

/** The letter as a mail in plain text: nothing in it can be read as markup. */
export function letterMail({ subject, blocks }: Letter, link: string): MailText {
  return { subject: subject.slice(0, 200), text: blocks.map((block) => blockText(block, link)).join("\n\n") };
}
