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
  [/(\d)['\u2019](?=\d{3}(?!\d))/g, "$1"],
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

const spelledUnits: readonly (readonly [RegExp, string])[] = [
  [/^V/i, "V"],
  [/^A|^CURRENT/i, "A"],
  [/^W|^POWER/i, "W"],
  [/^H|^FREQ/i, "Hz"],
];
const labelWord = "VOLTS?|VOLTAGE|AMPS?|AMPERES?|CURRENT|WATTS?|WATTAGE|POWER|HERTZ|HZ|FREQUENCY|V|A|W";
/** A unit of its own behind the figure, which is not the next field's word. */
const ownUnit = "\\s*-?(?:k?VA|k?W|m?A|V|Hz|watts?|volts?|amps?|amperes?|hertz)(?![A-Za-z])(?!\\s*[:=])";
const labelled = new RegExp(
  `(?<![A-Za-z])(${labelWord})\\s*[:=]\\s*(\\d[\\d.,/-]*)(?!${ownUnit})(?=\\s*(?:$|[|,;]|[A-Za-z ]{1,20}[:=]))`,
  "gi",
);
const unitFirst = /(?<![A-Za-z])(VOLTS?|AMPS?|AMPERES?|WATTS?|HERTZ|HZ)\s+(\d[\d.,/-]*)(?=\s|$)/gi;

function unitBehind(_: string, word: string, figures: string): string {
  const unit = spelledUnits.find(([pattern]) => pattern.test(word))?.[1] ?? "";
  return `${figures.replace(/[.,/-]+$/, "")} ${unit}`;
}

/** `VOLTS: 120 AMPS: 12.5` and, where the text begins so, `VOLTS 120 AMPS 12.5`: the unit is set behind its figure. */
function unitsBehind(text: string): string {
  const told = text.replace(labelled, unitBehind);
  return /^\D*\b(?:volts?|amps?|amperes?|watts?|hertz|hz)\s+\d/i.test(told) ? told.replace(unitFirst, unitBehind) : told;
}

/** Lines and `|` or `;` become one separator ` | `, Unicode marks plain letters; codes such as model and serial are blanked. */
export function plainPlateText(text: string): string {
  const plain = plainMarks.reduce((reading, [mark, letter]) => reading.replace(mark, letter), text);
  const oneLine = plain.replace(/\s*[\r\n|;]+\s*/g, " | ").trim();
  const apart = withoutCodes(oneLine)
    .replace(gluedWords, "$1 ")
    .replace(/(?<=\d\s*(?:W|A|V))(?=MAX)/gi, " ");
  return unitsBehind(joinedThousands(apart));
}
