import { expect } from "vitest";

/** The longest that one notice or list may take (milliseconds). */
const longest = 2_000;

/** Milliseconds of processor time so far: a machine that is busy with other work is no reason to fail. */
function worked(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1_000;
}

/** Runs the work and fails where it takes too long; the quicker of two runs counts. */
export function inTime<T>(work: () => T): T {
  const begun = worked();
  const result = work();
  if (worked() - begun < longest) return result;
  const again = worked();
  work();
  expect(worked() - again).toBeLessThan(longest);
  return result;
}

/** `unit` over and over, whole, to so many characters at most. */
export function filled(unit: string, characters: number): string {
  return unit.repeat(Math.floor(characters / unit.length));
}

/** Long runs of what patterns with nested repeats choke on, and of what the grammar's own cues react to. */
export const bait: readonly (readonly [name: string, unit: string])[] = [
  ["digits", "7"],
  ["digits and commas", "1,"],
  ["thousands", "1,000,"],
  ["commas", ","],
  ["commas and blanks", ", "],
  ["blanks", " "],
  ["no-break spaces", "\u00a0"],
  ["line breaks", "\r\n"],
  ["dashes", "-"],
  ["dashes and digits", "1-"],
  ["long dashes", "– "],
  ["slashes", "A1/"],
  ["dots", "1."],
  ["open brackets", "("],
  ["closed brackets", ")"],
  ["brackets around letters", "(A)"],
  ["a code with options", "AB12 (T) (K) "],
  ["straight quotation marks", '"'],
  ["curly quotation marks", "“A”"],
  ["apostrophes", "A's "],
  ["stars", "*"],
  ["number signs", "#"],
  ["capital X", "X"],
  ["small x", "AB12x"],
  ["through chains", "QD100 through "],
  ["to chains", "100 to "],
  ["and chains", "and "],
  ["or chains", "A or "],
  ["between chains", "between 100 and "],
  ["followed chains", "followed by a letter and "],
  ["places", "the first two digits of the "],
  ["places with values", "the third digit is A, B or C and the "],
  ["ordinals", "first second third "],
  ["beginnings", "beginning with "],
  ["ends", "ending in 04 or "],
  ["letters with numbers", "letters A and B and the number "],
  ["models", "model "],
  ["model numbers", "model number AB-12, "],
  ["models with a name", 'model "Aria", '],
  ["serial numbers", "serial number "],
  ["date codes", "date code 0112 through 0512, "],
  ["lots", "lot A1 "],
  ["exceptions", "except AB-12, "],
  ["negations", "is not included; "],
  ["neither", "neither model AB-12 nor "],
  ["other recalls", "The original recall in May 2030 involved "],
  ["months", "May "],
  ["months of two digits", "Sept. '98 and "],
  ["quarters", "first quarter of 1998 and "],
  ["weeks", "weeks 10 and "],
  ["windows of manufacture", "manufactured between May 2030 and "],
  ["headings", "Model NumberSerial NumberDate Code"],
  ["codes glued together", "AB12CD"],
  ["codes with options glued together", "QB28B/W/S/CQK28B/W/C"],
  ["codes with hyphens glued together", "QT-45QT-46"],
  ["glued ranges", "98020001-98129999"],
  ["brands", "sold under the brand names Larkfield, Corvane and "],
  ["names", "Larkfield, "],
  ["capitalised words", "Larkfield Corvane Tavish "],
  ["names before a product", "certain Larkfield and Corvane "],
  ["firms", "and Larkfield Company "],
  ["initials", "A.B."],
  ["addresses of mail", "a@b."],
  ["addresses of the web", "www.a."],
  ["markup", "<a "],
  ["entities", "&amp;"],
  ["telephone numbers", "800-555-0142 "],
  ["prices", "$1,000.00 "],
  ["measures", "12-inch by "],
  ["sections", "Units:Hazard:"],
  ["places of labels", "model number is on the "],
  ["surrogate halves", "\ud800"],
  ["emoji", "🔌"],
  ["zero characters", "\u0000"],
];
