/**
 * The numbers from one to another of the same length as patterns, `#` for any digit: `0998` to `1012` -> `0998`, `0999`,
 * `100#`, `1010`, `1011`, `1012`. Null where the ends are no such numbers.
 */
export function numberPatterns(from: string, to: string): string[] | null {
  if (!/^\d{1,8}$/.test(from) || !/^\d{1,8}$/.test(to) || from.length !== to.length || from > to) return null;
  const patterns: string[] = [];
  let low = Number(from);
  const high = Number(to);
  while (low <= high) {
    let zeros = 0;
    while (zeros < from.length - 1 && low % 10 ** (zeros + 1) === 0 && low + 10 ** (zeros + 1) - 1 <= high) zeros += 1;
    patterns.push(
      String(low)
        .padStart(from.length, "0")
        .slice(0, from.length - zeros) + "#".repeat(zeros),
    );
    low += 10 ** zeros;
  }
  return patterns;
}
