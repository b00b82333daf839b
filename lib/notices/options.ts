/**
 * Alternatives inside one printed code: `QB757BH/WH/CH` stands for three codes, `22-48722/4/9` too, `AB12/AB14` for two,
 * while `QF36450G/BK/P` is one code that has slashes. `others` are the notice's further codes: a base that occurs with
 * different tails is no list of alternatives.
 */
export function expandOptions(code: string, others: readonly string[]): string[] {
  const parts = code.split("/");
  const [base = "", ...tails] = parts;
  if (tails.length === 0 || base === "" || tails.some((tail) => tail === "")) return [code];
  if (tails.every((tail) => isCodeOfItsOwn(tail))) return parts;
  if (parts.every((part) => /^[A-Z]{1,4}-\d{1,3}[A-Z]?$/.test(part)) && new Set(parts.map(shapeOf)).size === 1) return parts;
  if (isSlashedCode(base, code, others)) return [code];
  if (tails.every((tail) => /^\d{1,3}$/.test(tail) && /\d$/.test(base)))
    return [base, ...tails.map((tail) => replaceTail(base, tail, tail.length))];
  const letters = /[A-Za-z]+$/.exec(base)?.[0] ?? "";
  if (!tails.every((tail) => /^[A-Za-z]{1,3}$/.test(tail)) || letters === "" || letters.length > 3) return [code];
  const alike = tails.every(
    (tail) => tail.length === letters.length || tail.startsWith(letters) || letters.endsWith(tail) || tails.length > 1,
  );
  return alike && !tails.some((tail) => tail.length > letters.length && !tail.startsWith(letters))
    ? [base, ...tails.map((tail) => replaceTail(base, tail, letters.length))]
    : [code];
}

function shapeOf(code: string): string {
  return code.replace(/\d/g, "0").replace(/[A-Z]/g, "A");
}

function isCodeOfItsOwn(tail: string): boolean {
  return tail.length >= 4 && /\d/.test(tail) && (/[A-Za-z]/.test(tail) || tail.length >= 4);
}

/** The same base with other tails elsewhere: the slashes belong to the code. */
function isSlashedCode(base: string, code: string, others: readonly string[]): boolean {
  return others.some((other) => other !== code && other.startsWith(`${base}/`));
}

function replaceTail(base: string, tail: string, length: number): string {
  return base.slice(0, base.length - length) + tail;
}
