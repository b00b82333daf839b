/** Texts that come again and again, each with a number, from 0 on. */
export class NumberedNames {
  private readonly numbers = new Map<string, number>();
  readonly texts: string[] = [];

  /** `first` are numbered from 0 on. */
  constructor(first: readonly string[] = []) {
    for (const text of first) this.numberOf(text);
  }

  /** The number of a text, a new one when it was not seen yet. */
  numberOf(text: string): number {
    const known = this.numbers.get(text);
    if (known !== undefined) return known;
    const made = this.texts.length;
    this.numbers.set(text, made);
    this.texts.push(text);
    return made;
  }

  /** The number of a text; -1 when it was never seen. */
  find(text: string): number {
    return this.numbers.get(text) ?? -1;
  }
}
