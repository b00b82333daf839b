/**
 * Keeps the results of a pure function for its latest arguments, told apart by `keyOf`. A registry holds many appliances of one
 * model, so the same plate is read again and again. Holds between half of and the whole `limit` of results.
 */
export function remember<A extends readonly unknown[], R>(
  limit: number,
  keyOf: (...args: A) => string,
  work: (...args: A) => R,
): (...args: A) => R {
  let young = new Map<string, R>();
  let old = new Map<string, R>();
  return (...args) => {
    const key = keyOf(...args);
    const kept = young.get(key);
    if (kept !== undefined) return kept;
    const result = old.get(key) ?? work(...args);
    young.set(key, result);
    if (young.size >= limit / 2) {
      old = young;
      young = new Map();
    }
    return result;
  };
}
