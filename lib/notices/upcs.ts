/** Product codes of a text: 8 to 14 digits, also in groups parted by single blanks or hyphens, with their places. */
export function upcsIn(text: string): { digits: string; start: number; end: number }[] {
  return [...text.matchAll(/(?<![\w-])\d(?:[ -]?\d){7,13}(?![\w-]|\.\d)/g)].flatMap((match) => {
    const digits = match[0].replace(/\D/g, "");
    return digits.length === 8 || digits.length >= 11 ? [{ digits, start: match.index, end: match.index + match[0].length }] : [];
  });
}
