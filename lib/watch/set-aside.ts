/** Why a row of an outlet log is not judged: the name it is counted under, and the sentence for a person. */
export const setAsideReasons = {
  late: "The row is more than 60 s older than the rows before it.",
  repeated: "The row repeats a row that was already taken.",
  clock_stepped: "The clock of the outlet stepped: its times run behind or far ahead of the rest.",
  unknown_outlet: "The outlet is not in the plan of the site; add it to the places first.",
  negative: "A measured value is negative.",
  not_finite: "A measured value is not a finite number.",
  bad_number: "A measured value is not a number; write it with digits and a decimal point.",
  no_time: "The row has no time, or it is not ISO 8601; write it like 2026-03-01T14:05:00-05:00.",
  no_zone: "The time has no offset and the site has no time zone; write the offset, or give the site's zone.",
  no_such_local_time: "The clock was put forward over this local time, so it never was; write the offset.",
  unknown_event: "The event is none of trip, restore, off, on, plugged, unplugged.",
  no_outlet: "The row names no outlet.",
  unparsable: "The row cannot be read.",
} as const;

export type SetAsideReason = keyof typeof setAsideReasons;
