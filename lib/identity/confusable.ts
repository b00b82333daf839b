/**
 * Characters that are taken for one another on a worn or photographed plate: O0 I1L S5 B8 Z2 G6.
 * Common practice of plate reading, no standard.
 */
const folded: Readonly<Record<string, string>> = { O: "0", I: "1", L: "1", S: "5", B: "8", Z: "2", G: "6" };

/** One upper-case character in the form it shares with the characters it is confused with. */
export function foldConfusable(character: string): string {
  return folded[character] ?? character;
}

/** Whether the character is a digit in some reading. */
export function mayBeDigit(character: string): boolean {
  const code = foldConfusable(character);
  return code >= "0" && code <= "9";
}

/** Whether the character is a letter in some reading: a letter, or a digit that a letter is confused with. */
export function mayBeLetter(character: string): boolean {
  return (character >= "A" && character <= "Z") || "015826".includes(character);
}
