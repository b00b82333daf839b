const signs: readonly (readonly [RegExp, string])[] = [
  [/#/, "# any digit"],
  [/@/, "@ any letter"],
  [/\?/, "? any one character"],
  [/\*/, "* anything"],
  [/XX+(?: |$)/, "X any character"],
];

/** What the wildcards in these texts stand for, in brackets; empty where there are none. */
export function signsMeaning(text: string): string {
  const meanings = signs.flatMap(([sign, meaning]) => (sign.test(text) ? [meaning] : []));
  return meanings.length === 0 ? "" : ` (${meanings.join(", ")})`;
}

/** A pattern without its open end: what a code must begin with; `null` when it has other wildcards, or none. */
export function beginningOf(pattern: string): string | null {
  return /^[^*?#@]+\*$/.test(pattern) ? pattern.slice(0, -1) : null;
}
