import { mayBeDigit, mayBeLetter } from "./confusable";

interface Compared {
  readonly code: string;
  readonly from: string;
  readonly to: string;
}

/**
 * Bounds that share signs at their start or inside: `??000` to `??074`, `*000` to `*074` (the end of a code). A star is
 * taken off with as much of the code as stands before the rest; a sign with the character of the code at its place.
 * Null where the code has no such place or another kind of character there.
 */
export function withoutSharedSigns({ code, from, to }: Compared): Compared | null {
  if (from.startsWith("*") && to.startsWith("*") && from.length === to.length) {
    const length = from.length - 1;
    return code.length < length ? null : { code: code.slice(code.length - length), from: from.slice(1), to: to.slice(1) };
  }
  const shared = [...from].map((sign, at) => (/[?#@]/.test(sign) && to[at] === sign ? sign : ""));
  const last = shared.findLastIndex((sign, at) => sign !== "" && /[^?#@*]/.test(from.slice(at + 1)));
  if (last < 0) return { code, from, to };
  const places = shared.slice(0, last + 1);
  if (code.length <= last || places.some((sign, at) => sign !== "" && !fits(sign, code[at] ?? ""))) return null;
  const kept = (text: string) => [...text].filter((_, at) => (places[at] ?? "") === "").join("");
  return { code: kept(code), from: kept(from), to: kept(to) };
}

function fits(sign: string, character: string): boolean {
  return sign === "?" || (sign === "#" ? mayBeDigit(character) : mayBeLetter(character));
}
