/**
 * One row of a log as numbers, the one at hand: filled in anew for each, so that no object is made for a reading. NaN is not measured.
 */
export class Row {
  atMs = Number.NaN;
  watts = Number.NaN;
  amps = Number.NaN;
  volts = Number.NaN;
  powerFactor = Number.NaN;
  /** Number of the tag's text, -1 for none. */
  tag = -1;
  /** Event and cause, see `row-event.ts`; 0 for a reading. */
  event = 0;
  /** Number of the receptacle; -1 for one of no known outlet. */
  receptacle = -1;
  /** Of a row that is judged: the number of its outlet, and 1 where that is judged by itself. */
  outlet = -1;
  isApart = 0;
}
