import { compareMakers, type MakerAgreement, type MakerAliases, makerKey, makerWords } from "@/lib/identity/maker";
import { confusableKey } from "@/lib/identity/model-number";

/** The makers that notices name, found from a name as it stands on an appliance. */
export interface MakerIndex {
  /** The id of a maker's name as a notice writes it. */
  idOf(name: string): number | undefined;
  /** Every named maker that agrees with this one, with how. Remembered per spelling. */
  find(name: string): ReadonlyMap<number, MakerAgreement>;
}

/** The key and the key with each one character left out: two keys one slip apart share one of these. */
function neighbourhood(key: string): string[] {
  const around = [key];
  for (let at = 0; at < key.length; at++) around.push(key.slice(0, at) + key.slice(at + 1));
  return around;
}

function add(map: Map<string, number[]>, key: string, id: number): void {
  const ids = map.get(key);
  if (ids) ids.push(id);
  else map.set(key, [id]);
}

const mostRemembered = 100_000;

/** Builds the index over the names as notices write them; names with one key are one maker. */
export function buildMakerIndex(names: Iterable<string>, aliases: MakerAliases): MakerIndex {
  const idByKey = new Map<string, number>();
  const spelled: string[] = [];
  const byWord = new Map<string, number[]>();
  const bySlip = new Map<string, number[]>();
  for (const name of names) {
    const key = makerKey(name);
    if (key === "" || idByKey.has(key)) continue;
    const id = spelled.push(name) - 1;
    idByKey.set(key, id);
    for (const word of new Set(makerWords(name))) add(byWord, word, id);
    for (const near of neighbourhood(confusableKey(key))) add(bySlip, near, id);
  }
  const aliasKeys = aliases.map((group) => group.map(makerKey));
  const remembered = new Map<string, ReadonlyMap<number, MakerAgreement>>();

  const candidates = (key: string, words: readonly string[]): Set<number> => {
    const ids = new Set<number>();
    const own = idByKey.get(key);
    if (own !== undefined) ids.add(own);
    for (const word of words) for (const id of byWord.get(word) ?? []) ids.add(id);
    for (const near of neighbourhood(confusableKey(key))) for (const id of bySlip.get(near) ?? []) ids.add(id);
    for (const group of aliasKeys) {
      if (!group.includes(key)) continue;
      for (const other of group) {
        const id = idByKey.get(other);
        if (id !== undefined) ids.add(id);
      }
    }
    return ids;
  };

  const find = (name: string): ReadonlyMap<number, MakerAgreement> => {
    const found = new Map<number, MakerAgreement>();
    const words = makerWords(name);
    for (const id of candidates(words.join(""), words)) {
      const agreement = compareMakers(name, spelled[id] ?? "", aliases);
      if (agreement !== "other") found.set(id, agreement);
    }
    return found;
  };

  return {
    idOf: (name) => idByKey.get(makerKey(name)),
    find(name) {
      const known = remembered.get(name);
      if (known) return known;
      const found = find(name);
      if (remembered.size >= mostRemembered) remembered.clear();
      remembered.set(name, found);
      return found;
    },
  };
}
