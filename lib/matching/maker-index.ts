import { compareMakers, distinctiveMakerKey, type MakerAgreement, type MakerAliases, makerKey, makerWords } from "@/lib/identity/maker";
import { confusableKey } from "@/lib/identity/model-number";

/** The makers that agree with a name, by id, with how. Nearly always it is one, which is kept apart: it is asked for with every pair. */
export class AgreeingMakers {
  readonly ids: readonly number[];
  private readonly first: number;
  private readonly howFirst: MakerAgreement | undefined;
  private readonly others: ReadonlyMap<number, MakerAgreement> | null;

  constructor(found: ReadonlyMap<number, MakerAgreement>) {
    this.ids = [...found.keys()];
    this.first = this.ids[0] ?? -1;
    this.howFirst = found.get(this.first);
    this.others = found.size > 1 ? found : null;
  }

  /** How the maker agrees; `undefined` when it does not. */
  get(id: number): MakerAgreement | undefined {
    if (id === this.first) return this.howFirst;
    return this.others === null ? undefined : this.others.get(id);
  }
}

/** The makers that notices name, found from a name as it stands on an appliance. */
export interface MakerIndex {
  /** The id of a maker's name as a notice writes it. */
  idOf(name: string): number | undefined;
  /** Every named maker that agrees with this one, with how. Remembered per spelling. */
  find(name: string): AgreeingMakers;
}

/** The key and the key with each one character left out: two keys one slip apart share one of these. */
function neighbourhood(key: string): string[] {
  const around = [key];
  for (let at = 0; at < key.length; at++) around.push(key.slice(0, at) + key.slice(at + 1));
  return around;
}

/** Makers by everything that two agreeing names have in common. */
class MakerEntries {
  private readonly byKey = new Map<string, number[]>();
  private readonly byWord = new Map<string, number[]>();
  private readonly byDistinctive = new Map<string, number[]>();
  private readonly bySlip = new Map<string, number[]>();
  private readonly aliasKeys: readonly (readonly string[])[];

  constructor(aliases: MakerAliases) {
    this.aliasKeys = aliases.map((group) => group.map(makerKey));
  }

  enter(words: readonly string[], id: number): void {
    const key = words.join("");
    add(this.byKey, key, id);
    add(this.byDistinctive, distinctiveMakerKey(words), id);
    for (const word of new Set(words)) add(this.byWord, word, id);
    for (const near of neighbourhood(confusableKey(key))) add(this.bySlip, near, id);
  }

  /** Every maker that may agree with the name; which do is for the comparison to say. */
  candidates(words: readonly string[]): Set<number> {
    const ids = new Set<number>();
    const take = (found: readonly number[] | undefined): void => {
      for (const id of found ?? []) ids.add(id);
    };
    const key = words.join("");
    take(this.byKey.get(key));
    take(this.byDistinctive.get(distinctiveMakerKey(words)));
    for (const word of words) take(this.byWord.get(word));
    for (const near of neighbourhood(confusableKey(key))) take(this.bySlip.get(near));
    for (const group of this.aliasKeys) if (group.includes(key)) for (const other of group) take(this.byKey.get(other));
    return ids;
  }
}

function add(map: Map<string, number[]>, key: string, id: number): void {
  const ids = map.get(key);
  if (ids) ids.push(id);
  else map.set(key, [id]);
}

const mostRemembered = 100_000;

/**
 * Builds the index over the names as notices write them. Names of the same words are one maker; names that only run together
 * alike (`Ac me`, `Acme`) are two that agree, so that how a name compares depends on no other name and on no order.
 */
export function buildMakerIndex(names: Iterable<string>, aliases: MakerAliases): MakerIndex {
  const idBySpelling = new Map<string, number>();
  const spelled: string[] = [];
  const entries = new MakerEntries(aliases);
  for (const name of names) {
    const words = makerWords(name);
    const spelling = words.join(" ");
    if (spelling === "" || idBySpelling.has(spelling)) continue;
    const id = spelled.push(spelling) - 1;
    idBySpelling.set(spelling, id);
    entries.enter(words, id);
  }
  const remembered = new Map<string, AgreeingMakers>();

  const compare = (name: string): AgreeingMakers => {
    const found = new Map<number, MakerAgreement>();
    for (const id of entries.candidates(makerWords(name))) {
      const agreement = compareMakers(name, spelled[id] ?? "", aliases);
      if (agreement !== "other") found.set(id, agreement);
    }
    return new AgreeingMakers(found);
  };

  return {
    idOf: (name) => idBySpelling.get(makerWords(name).join(" ")),
    find(name) {
      const known = remembered.get(name);
      if (known) return known;
      const found = compare(name);
      if (remembered.size >= mostRemembered) remembered.clear();
      remembered.set(name, found);
      return found;
    },
  };
}
