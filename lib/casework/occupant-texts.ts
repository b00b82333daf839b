import type { OccupantTextName } from "./occupant-text-name";
import { germanTexts } from "./occupant-texts-de";
import { englishTexts } from "./occupant-texts-en";

/** Languages that occupants are written to in, by their IETF tag. */
export type OccupantLanguage = "en" | "de";
export const occupantLanguages: readonly OccupantLanguage[] = ["en", "de"];

export const occupantTexts: Readonly<Record<OccupantLanguage, Readonly<Record<OccupantTextName, string>>>> = {
  en: englishTexts,
  de: germanTexts,
};

/** The parts of a notice that an organisation may word itself. What warns, stops, remedies and whom to call are not among them. */
export const editableParts = ["subject", "greeting_name", "about", "next", "closing"] as const satisfies readonly OccupantTextName[];
export type EditablePart = (typeof editableParts)[number];

/** The fields that those parts may hold. */
export const noticeFields = ["name", "appliance", "tag", "place", "organisation", "contact", "phone"] as const;
export type NoticeField = (typeof noticeFields)[number];

const fieldShape = /\{([^{}]*)\}/g;

/** The fields that a text holds, each once, in alphabetical order. */
export function fieldsOf(text: string): string[] {
  return [...new Set([...text.matchAll(fieldShape)].map(([, name]) => name ?? ""))].sort();
}

/** A value as it may stand within a line: no line breaks, no control or direction characters that could pass for our own words. */
export function plainValue(value: string): string {
  return value
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, " ")
    .replace(/ {2,}/g, " ")
    .trim();
}

/** A text with its fields filled, once: what a value holds is never taken for a field. A field without a value is left empty. */
export function fillText(text: string, values: Readonly<Partial<Record<string, string>>> = {}): string {
  return text.replace(fieldShape, (_, name: string) => plainValue((Object.hasOwn(values, name) ? values[name] : "") ?? ""));
}

const longestPart = 1500;

/** Why a part's own wording is refused, in one sentence; null when it is fine. An empty one stands for the usual wording. */
export function partProblem(part: EditablePart, text: string): string | null {
  const unknown = fieldsOf(text).find((name) => !(noticeFields as readonly string[]).includes(name));
  if (unknown !== undefined) return `There is no field {${unknown}}: take one of ${noticeFields.map((name) => `{${name}}`).join(", ")}.`;
  if (/[{}]/.test(text.replace(fieldShape, ""))) return "A brace stands alone: a field is written as {phone}.";
  if (text.length > longestPart) return `Write at most ${longestPart} characters.`;
  return part === "subject" && /[\r\n]/.test(text) ? "A subject is one line." : null;
}

/** The best of our languages for what a browser asks for (RFC 9110, Accept-Language). */
export function languageFor(accepted: string | null): OccupantLanguage {
  const wanted = (accepted ?? "").split(",").map((entry) => {
    const [tag = "", ...rest] = entry.trim().toLowerCase().split(";");
    const quality = Number(
      rest
        .find((one) => one.trim().startsWith("q="))
        ?.trim()
        .slice(2) ?? 1,
    );
    return { tag: tag.split("-")[0], quality: Number.isFinite(quality) ? quality : 0 };
  });
  const known = wanted.filter(({ tag, quality }) => quality > 0 && occupantLanguages.some((language) => language === tag));
  const best = known.reduce<(typeof known)[number] | null>((a, b) => (a !== null && a.quality >= b.quality ? a : b), null);
  return asLanguage(best?.tag);
}

/** Narrows text to a language; English where it is none of ours. */
export function asLanguage(text: string | null | undefined): OccupantLanguage {
  return occupantLanguages.find((language) => language === text) ?? "en";
}

/** The texts of a language: `say("call", {contact, phone})`. */
export function speaker(language: OccupantLanguage): (name: OccupantTextName, values?: Readonly<Record<string, string>>) => string {
  const texts = occupantTexts[language];
  return (name, values) => fillText(texts[name], values);
}

/** A day as it is written in a language, in a zone. */
export function dayIn(language: OccupantLanguage, at: Date, timeZone: string): string {
  return new Intl.DateTimeFormat(language === "de" ? "de-DE" : "en-US", { dateStyle: "long", timeZone }).format(at);
}
