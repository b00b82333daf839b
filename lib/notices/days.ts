import { monthNumber } from "./month-names";
import { daysInMonth, wholeDay } from "./published-date";

/** A date as a text gives it: a day, a month or a year as its first and last whole day. */
export interface DaySpan {
  readonly start: number;
  readonly end: number;
  readonly first: string;
  readonly last: string;
}

const month =
  "(?:Jan(?:uary|\\.)?|Feb(?:ruary|\\.)?|Mar(?:ch|\\.)?|Apr(?:il|\\.)?|May|June?|July?|Aug(?:ust|\\.)?|Sept?(?:ember|\\.)?|Oct(?:ober|\\.)?|Nov(?:ember|\\.)?|Dec(?:ember|\\.)?)";
const year = "(?:19|20)\\d{2}";
const partWord = "first|second|third|fourth|1st|2nd|3rd|4th|last";
const written = new RegExp(
  [
    `(?<md>\\b${month})\\s{1,3}(?<d>\\d{1,2})(?:st|nd|rd|th)?,?\\s{0,3}(?<yd>${year})\\b`,
    `(?<my>\\b${month}),?\\s{1,3}(?:of\\s)?(?<ym>${year})\\b`,
    `(?<![\\w-])(?<dm>\\d{1,2})\\s(?<m2>${month})\\s(?<y2>${year})\\b`,
    `\\b(?<nm>\\d{1,2})[/.-](?<nd>\\d{1,2})[/.-](?<ny>${year})\\b`,
    `\\b(?<iy>${year})[-/.](?<im>\\d{1,2}|[A-Z]{3})[-/.](?<id>\\d{1,2})\\b`,
    `\\b(?<sm>\\d{1,2})/(?<sy>${year})\\b`,
    `\\b(?<sh>${month})\\s{1,3}(?:['’‘](?<s2>\\d{2})|(?<s1>[5-9]\\d))(?![\\w,./-])`,
    `\\b(?<hm>${month})-(?<hy>\\d{2})(?![\\w/.-])`,
    `\\b(?<part>${partWord})\\s(?<of>quarter|half)\\s(?:of\\s)?(?<py>${year})\\b`,
    `(?<![\\w#/-])(?<y>${year})(?![\\w/-])`,
  ].join("|"),
  "gi",
);

/** Every date expression of the text, left to right. */
export function daySpans(text: string): DaySpan[] {
  const spans: DaySpan[] = [];
  for (const match of text.matchAll(written)) {
    const days = daysOf(match.groups ?? {});
    if (days) spans.push({ start: match.index, end: match.index + match[0].length, ...days });
  }
  return spans;
}

function daysOf(part: Record<string, string | undefined>): { first: string; last: string } | null {
  if (part["md"]) return oneDay(part["yd"], monthNumber(part["md"]), part["d"]);
  if (part["my"]) return wholeMonth(part["ym"], monthNumber(part["my"]));
  if (part["dm"]) return oneDay(part["y2"], monthNumber(part["m2"] ?? ""), part["dm"]);
  if (part["nm"]) return oneDay(part["ny"], Number(part["nm"]), part["nd"]);
  if (part["iy"]) return oneDay(part["iy"], monthNumber(part["im"] ?? "") ?? Number(part["im"]), part["id"]);
  if (part["sm"]) return wholeMonth(part["sy"], Number(part["sm"]));
  if (part["sh"]) return wholeMonth(String(fullYear(part["s2"] ?? part["s1"] ?? "")), monthNumber(part["sh"]));
  // `Nov-19`; all in capitals it may be a code.
  if (part["hm"]) return /[a-z]/.test(part["hm"]) ? wholeMonth(String(fullYear(part["hy"] ?? "")), monthNumber(part["hm"])) : null;
  if (part["part"]) return partOfYear(Number(part["py"]), part["part"], part["of"] ?? "");
  return part["y"] ? wholeYear(Number(part["y"])) : null;
}

function oneDay(yearText: string | undefined, monthOf: number | null, day: string | undefined): { first: string; last: string } | null {
  const whole = wholeDay(Number(yearText), monthOf ?? 0, Number(day));
  return whole === null ? null : { first: whole, last: whole };
}

export function wholeMonth(yearText: string | undefined, monthOf: number | null): { first: string; last: string } | null {
  const inYear = Number(yearText);
  const first = wholeDay(inYear, monthOf ?? 0, 1);
  const last = wholeDay(inYear, monthOf ?? 0, daysInMonth(inYear, monthOf ?? 0));
  return first !== null && last !== null ? { first, last } : null;
}

export function wholeYear(inYear: number): { first: string; last: string } {
  return { first: `${inYear}-01-01`, last: `${inYear}-12-31` };
}

/** Two digits of a year, `95` or `07`: the years 1950 to 2049. */
export function fullYear(twoDigits: string): number {
  const short = Number(twoDigits);
  return short >= 50 ? 1900 + short : 2000 + short;
}

/** "the first quarter of 1990", "the second half of 1999". */
function partOfYear(inYear: number, ordinal: string, of: string): { first: string; last: string } | null {
  const parts = of.toLowerCase() === "half" ? 2 : 4;
  const word = ordinal.toLowerCase();
  const which = word === "last" ? parts : /^\d/.test(word) ? Number(word[0]) : ordinalWords.indexOf(word) + 1;
  if (which < 1 || which > parts) return null;
  const months = 12 / parts;
  const first = wholeMonth(String(inYear), (which - 1) * months + 1);
  const last = wholeMonth(String(inYear), which * months);
  return first && last ? { first: first.first, last: last.last } : null;
}

const ordinalWords = ["first", "second", "third", "fourth"];

/** The day before or after a whole day. */
export function dayBeside(day: string, step: 1 | -1): string {
  const [inYear = 0, inMonth = 1, onDay = 1] = day.split("-").map(Number);
  if (step === -1) {
    if (onDay > 1) return wholeDay(inYear, inMonth, onDay - 1) ?? day;
    return inMonth > 1 ? (wholeDay(inYear, inMonth - 1, daysInMonth(inYear, inMonth - 1)) ?? day) : `${inYear - 1}-12-31`;
  }
  return wholeDay(inYear, inMonth, onDay + 1) ?? wholeDay(inYear, inMonth + 1, 1) ?? `${inYear + 1}-01-01`;
}

/** Week 1 to 53 of a year (ISO 8601: weeks begin on Monday, week 1 holds 4 January) as its first and last day. */
export function wholeWeek(inYear: number, week: number): { first: string; last: string } {
  let monday = `${inYear}-01-04`;
  for (let back = weekdayOf(inYear, 1, 4); back > 1; back--) monday = dayBeside(monday, -1);
  for (let days = (week - 1) * 7; days > 0; days--) monday = dayBeside(monday, 1);
  let sunday = monday;
  for (let days = 0; days < 6; days++) sunday = dayBeside(sunday, 1);
  return { first: monday, last: sunday };
}

/** 1 Monday to 7 Sunday, by Zeller's congruence. */
function weekdayOf(inYear: number, inMonth: number, day: number): number {
  const late = inMonth < 3 ? inMonth + 12 : inMonth;
  const of = inMonth < 3 ? inYear - 1 : inYear;
  const zeller = (day + Math.floor((13 * (late + 1)) / 5) + of + Math.floor(of / 4) - Math.floor(of / 100) + Math.floor(of / 400)) % 7;
  return ((zeller + 5) % 7) + 1;
}
