/**
 * Whether a coverage pattern covers a code: `?` any one character, `#` one digit, `@` one letter, `*` any run, also
 * empty; everything else stands for itself. Compared character by character as given: fold both sides alike before.
 * Linear scan with one backtrack point, so that no pattern can make it slow.
 */
export function patternMatches(pattern: string, code: string): boolean {
  let at = 0;
  let read = 0;
  let starAt = -1;
  let starRead = 0;
  while (read < code.length) {
    if (pattern[at] === "*") {
      starAt = at++;
      starRead = read;
    } else if (at < pattern.length && standsFor(pattern[at] ?? "", code[read] ?? "")) {
      at++;
      read++;
    } else if (starAt >= 0) {
      at = starAt + 1;
      read = ++starRead;
    } else return false;
  }
  while (pattern[at] === "*") at++;
  return at === pattern.length;
}

function standsFor(sign: string, character: string): boolean {
  if (sign === "?") return true;
  if (sign === "#") return character >= "0" && character <= "9";
  if (sign === "@") return /^\p{L}$/u.test(character);
  return sign === character;
}

/** Whether a pattern has any of the four signs, and so covers more than one code. */
export function isOpenPattern(pattern: string): boolean {
  return /[?#@*]/.test(pattern);
}
