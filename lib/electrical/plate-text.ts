/** Marks of Unicode that plates use, in plain letters. The class II square stays, it is read as a mark. */
const plainMarks: readonly (readonly [RegExp, string])[] = [
  [/[\u2010-\u2015\u2212]/g, "-"],
  [/[\u223c\u301c\uff5e]/g, "~"],
  [/[\u00d7\u2715]/g, "x"],
  [/\u00bd/g, " 1/2"],
  [/\u00bc/g, " 1/4"],
  [/\u00be/g, " 3/4"],
  [/\u2044/g, "/"],
  [/\u2026/g, "..."],
  [/(\d)[\u00a0\u2009\u202f](?=\d{3}(?!\d))/g, "$1"],
  [/[\u00a0\u2009\u202f\t]/g, " "],
  [/[\uff10-\uff19]/g, ""],
];

/** Words that stand directly before a figure on plates; a space is set between. */
const gluedWords = /(?<![A-Za-z])(AC|DC|MAX\.?|INPUT|OUTPUT|RATED|FUSE|MOTOR|HEATER|[~=]|\d+[xX](?:MAX\.?)?)(?=\d)/gi;

/** Fields that hold codes, not figures: their word and the code after it. */
const codeFields =
  /(?<![A-Za-z])(?:MODEL|MOD|M\/N|TYPE\s*(?:NO|NR|NUMBER)|TYPE(?=\s*:)|TYP(?=\s*:)|CAT(?:ALOG)?|ITEM|SERIAL|SER|S\/N|SN(?=\s*[:.#])|P\/N|PART|SKU|UPC|EAN|LOT|BATCH|DATE\s*CODE|FCC\s*ID|E-?FILE|FILE|REV)(?:\s*(?:NO|NR|NUMBER|#|CODE)\b\.?)?[.:#\s]*[^\s|]*/gi;

function withoutCodes(text: string): string {
  return text.replace(codeFields, (found) => (/\d/.test(found) ? " ".repeat(found.length) : found));
}

/** A space as thousands mark, only where the figure begins after a unit or at the start: `50 Hz 1 500 W`. */
function joinedThousands(text: string): string {
  return text.replace(/(^|[|,;~]\s*|(?:V|Hz|A)\s+)(\d{1,2}) (\d{3})(?=\s*W)/gi, "$1$2$3");
}

/** Lines and `|` or `;` become one separator ` | `, Unicode marks plain letters; codes such as model and serial are blanked. */
export function plainPlateText(text: string): string {
  const plain = plainMarks.reduce((reading, [mark, letter]) => reading.replace(mark, letter), text);
  const oneLine = plain.replace(/\s*[\r\n|;]+\s*/g, " | ").trim();
  const apart = withoutCodes(oneLine)
    .replace(gluedWords, "$1 ")
    .replace(/(?<=\d\s*(?:W|A|V))(?=MAX)/gi, " ");
  return joinedThousands(apart);
}
