import type { englishTexts } from "./occupant-texts-en";

/** The name of a text that occupants read; every language has them all. */
export type OccupantTextName = keyof typeof englishTexts;
