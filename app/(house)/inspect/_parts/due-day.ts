import { dayWords } from "@/app/(house)/appliances/_parts/time-words";

/** A day on which something falls due or a paper ends, such as `1 Mar 2027`: a day of the calendar, the same in every zone. */
export const dueDay = (at: Date): string => dayWords(at, "UTC");
