import type { ProtectionClass } from "@/lib/electrical/rating";
import type { InspectionResult } from "./inspection-judging";

/** Where an appliance is used, as far as it decides how often it is inspected. */
export type InspectionEnvironment = "construction" | "workshop" | "hostile" | "calm" | "lodging" | "cleaning" | "hire";

/** Which column of the table holds for it. */
export type IntervalColumn = "Class I" | "Class II" | "cord set";

interface IntervalRow {
  readonly words: string;
  readonly months: Readonly<Record<IntervalColumn, number>>;
}

const row = (words: string, classOne: number, classTwo: number, cordSet: number): IntervalRow => ({
  words,
  months: { "Class I": classOne, "Class II": classTwo, "cord set": cordSet },
});

/**
 * Months from one inspection to the next: AS/NZS 3760:2003 and 2010, Table 4, read in two published copies; the 2022 edition was not
 * checked. No law fixes these everywhere (HSE INDG236: choose by risk), so a site may state its own.
 */
export const inspectionIntervals: Readonly<Record<InspectionEnvironment, IntervalRow>> = {
  construction: row("Construction and demolition", 3, 3, 3),
  workshop: row("Factory, workshop, repair", 6, 12, 6),
  hostile: row("Flexed in use, abused or hostile surroundings", 12, 12, 12),
  calm: row("Not flexed, not abused, not hostile (office, home)", 60, 60, 60),
  lodging: row("Residential areas of hotels, hostels, boarding houses", 24, 24, 24),
  cleaning: row("Commercial cleaning", 6, 12, 12),
  hire: row("Hired out (also before each hire)", 3, 3, 3),
};
export const inspectionEnvironments = Object.keys(inspectionIntervals) as readonly InspectionEnvironment[];
export const intervalSource = "AS/NZS 3760:2010 Table 4";

/** The column by class and category. Class III and a class that is not known go with Class I, the shorter. */
export function intervalColumn(protectionClass: ProtectionClass | null, category: string | null): IntervalColumn {
  if (/\b(extension|power ?(board|strip|bar)|cord ?set|multi-?plug|reel)\b/i.test(category ?? "")) return "cord set";
  return protectionClass === "II" ? "Class II" : "Class I";
}

/** Adds months in UTC; a day that the month does not have becomes its last: 31 August and six months is the end of February. */
export function addMonths(at: Date, months: number): Date {
  const day = at.getUTCDate();
  const first = new Date(Date.UTC(at.getUTCFullYear(), at.getUTCMonth() + months, 1));
  const last = new Date(Date.UTC(first.getUTCFullYear(), first.getUTCMonth() + 1, 0)).getUTCDate();
  return new Date(Date.UTC(first.getUTCFullYear(), first.getUTCMonth(), Math.min(day, last)));
}

export interface DueFacts {
  readonly at: Date;
  readonly result: InspectionResult;
  readonly environment: InspectionEnvironment;
  readonly column: IntervalColumn;
  /** Months that the site states of its own. */
  readonly ownMonths: number | null;
  /** When it was due before this inspection; null where nothing had set a date. */
  readonly dueBefore: Date | null;
}

export interface NextDue {
  readonly dueAt: Date | null;
  readonly why: string;
}

/** When the next inspection is due. Only a complete one that passed moves the date. */
export function nextDue({ at, result, environment, column, ownMonths, dueBefore }: DueFacts): NextDue {
  if (result === "fail") return { dueAt: at, why: "It failed: it is due again after repair, before it is used." };
  if (result === "limited") return { dueAt: dueBefore, why: "Only a complete inspection moves the date, so it stays as it was." };
  const months = ownMonths ?? inspectionIntervals[environment].months[column];
  const words = `${months} months, ${inspectionIntervals[environment].words.toLowerCase()}, ${column}`;
  return { dueAt: addMonths(at, months), why: `${words} (${ownMonths === null ? intervalSource : "the site's own interval"}).` };
}

const dayMs = 86_400_000;

/** When one that was never inspected is due: so many days after it was entered. */
export function firstDue(enteredAt: Date, firstDays: number): Date {
  return new Date(enteredAt.getTime() + firstDays * dayMs);
}

export type DueState = "overdue" | "due" | "later";

/** Due is within `soonDays` from now; a date that nobody set is overdue. */
export function dueState(dueAt: Date | null, now: Date, soonDays = 30): DueState {
  if (dueAt === null || dueAt <= now) return "overdue";
  return dueAt.getTime() - now.getTime() <= soonDays * dayMs ? "due" : "later";
}
