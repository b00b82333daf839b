import { type SetAsideRecord, setAside } from "./notice-list";

interface OtherKind {
  readonly firstLine: number;
  readonly numbers: string[];
}

/**
 * Records of a list that the list itself calls something no outlet feeds: food, vehicles, medicines. They run to tens of
 * thousands, so each kind gets one row in the account, with the number of every record in it: nothing is lost from sight.
 */
export class OtherKinds {
  private readonly kinds = new Map<string, OtherKind>();

  /** `kind` as a plural that a sentence can begin with: "Vehicles". */
  take(kind: string, record: { readonly line: number; readonly number: string }): void {
    const known = this.kinds.get(kind);
    if (known) known.numbers.push(record.number);
    else this.kinds.set(kind, { firstLine: record.line, numbers: [record.number] });
  }

  rows(): SetAsideRecord[] {
    return [...this.kinds].map(([kind, { firstLine, numbers }]) => {
      const count = numbers.length.toLocaleString("en-US");
      const reason = `${kind}: ${count} ${numbers.length === 1 ? "record is" : "records are"} set aside, because nothing of this kind is plugged in.`;
      return { ...setAside(firstLine, reason, ""), content: numbers.join(" "), records: numbers.length };
    });
  }
}
