import type { Operator } from "./operators";

/** One value of a list, as printed. `to` makes it a range; `from` is then its first value. An open end of a range is empty. */
export interface CodeItem {
  readonly from: string;
  readonly to: string | null;
  readonly operator: Operator;
  readonly excluded: boolean;
  readonly start: number;
  readonly end: number;
  /** Index of its first token. */
  readonly token: number;
}
