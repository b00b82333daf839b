/** A question of the embedded database has room for 999 values in all: for two lists of this many ids and a few more. */
export const idsAtOnce = 400;

/** A list of ids in parts that fit a question. */
export function* inParts(ids: readonly string[]): Generator<readonly string[]> {
  for (let at = 0; at < ids.length; at += idsAtOnce) yield ids.slice(at, at + idsAtOnce);
}
