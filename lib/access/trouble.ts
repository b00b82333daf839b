/** What can go wrong for a user, with the HTTP status the edge answers. */
export const troubles = {
  not_found: 404,
  not_valid: 422,
  changed_meanwhile: 409,
  already_there: 409,
  not_allowed_now: 409,
  too_large: 413,
  unreadable: 422,
} as const;

export type TroubleCode = keyof typeof troubles;

/** A failure that a user can understand and mend: one sentence saying what, where and how to mend it. */
export class Trouble extends Error {
  override readonly name = "Trouble";
  readonly code: TroubleCode;
  /** Sentences by form field, where the trouble sits in fields. */
  readonly fields: Readonly<Record<string, string>>;

  constructor(code: TroubleCode, sentence: string, fields: Readonly<Record<string, string>> = {}) {
    super(sentence);
    this.code = code;
    this.fields = fields;
  }

  get status(): number {
    return troubles[this.code];
  }
}
