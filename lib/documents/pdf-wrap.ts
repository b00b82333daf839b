import type { Paper, Style } from "./pdf-paper";

/** How much of a word fits a width: at least one sign, and rather up to a joint of the word than in the midst of it. */
function fittingLength(paper: Paper, word: string, style: Style, width: number): number {
  const signs = [...word];
  let [low, high] = [1, signs.length];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (paper.widthOf(signs.slice(0, middle).join(""), style) <= width) low = middle;
    else high = middle - 1;
  }
  const part = signs.slice(0, low).join("");
  const joint = part.search(/[-/_.,:;+](?=[^-/_.,:;+]*$)/) + 1;
  return joint > part.length / 2 ? joint : part.length;
}

/** The text in lines of a width, broken at spaces, and inside a word only where it alone is wider than a line. Nothing is left out. */
export function wrapped(paper: Paper, text: string, style: Style, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const whole of text.split(" ")) {
    let word = whole;
    const longer = line === "" ? word : `${line} ${word}`;
    if (paper.widthOf(longer, style) <= width) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    while (paper.widthOf(word, style) > width && [...word].length > 1) {
      const length = fittingLength(paper, word, style, width);
      lines.push(word.slice(0, length));
      word = word.slice(length);
    }
    line = word;
  }
  return line === "" ? lines : [...lines, line];
}

/** The first lines of a text, with the last one saying `rest` where more would follow. */
export function cutLines(lines: readonly string[], most: number, rest: string): readonly string[] {
  return lines.length <= most ? lines : [...lines.slice(0, most - 1), rest];
}
