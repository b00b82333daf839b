import { distinctiveMakerKey, sharedMakerWords } from "./maker";
import { confusableKey } from "./model-number";
import { isWithinOneEdit } from "./one-edit";

/** Whether the key is nothing but some of these words, run together in any order. */
function isMadeOf(key: string, words: readonly string[]): boolean {
  const reached = new Set([0]);
  for (let at = 0; at < key.length; at++) {
    if (reached.has(at)) for (const word of words) if (key.startsWith(word, at)) reached.add(at + word.length);
  }
  return reached.has(key.length);
}

/** Whether the key is this text with words that many makers share before, within or behind it. */
function isWithSharedWords(key: string, text: string): boolean {
  const read = Array.from({ length: key.length + 1 }, () => new Set<number>());
  read[0]?.add(0);
  for (let at = 0; at < key.length; at++) {
    const after = [...sharedMakerWords].filter((word) => key.startsWith(word, at)).map(({ length }) => at + length);
    for (const inText of read[at] ?? []) {
      if (key[at] === text[inText]) read[at + 1]?.add(inText + 1);
      for (const end of after) read[end]?.add(inText);
    }
  }
  return read[key.length]?.has(text.length) ?? false;
}

/**
 * Whether a maker of whom only the key is known may agree with a name, given by its words, in `compareMakers`. The key has lost
 * where its words part, so this may say yes too often, never no wrongly. `aliasKeys` are the aliases' groups, as keys.
 */
export function mayAgree(key: string, words: readonly string[], aliasKeys: readonly (readonly string[])[]): boolean {
  const own = words.join("");
  if (key === own || isWithinOneEdit(key, own) || confusableKey(key) === confusableKey(own)) return true;
  if (words.every((word) => key.includes(word)) || isMadeOf(key, words)) return true;
  if (aliasKeys.some((group) => group.includes(key) && group.includes(own))) return true;
  return isWithSharedWords(key, distinctiveMakerKey(words));
}
