import { headers } from "next/headers";
import { languageFor, type OccupantLanguage, occupantLanguages } from "@/lib/casework/occupant-texts";

/** The language of a page for whoever is not known: the one chosen, else what the browser asks for. */
export async function occupantLanguage(chosen: string | string[] | undefined): Promise<OccupantLanguage> {
  return occupantLanguages.find((language) => language === chosen) ?? languageFor((await headers()).get("accept-language"));
}
