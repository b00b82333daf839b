import { isShopCode, isStrongCode } from "./code-shape";
import type { Span } from "./coverage";
import { cueAt } from "./cues";
import { span } from "./draft";
import { earlierRecalls } from "./earlier-recalls";
import { negatedClauses } from "./negation";
import type { Passage } from "./passage";
import type { Token } from "./token";

/** How far behind a cue a value is still "next to" it, in tokens. */
const reach = 12;
/** As many codes of one shape that nothing was made of are a list. */
const list = 3;
const most = 200;

/**
 * What looks like an identifier and was not understood: codes next to "model", "serial number" or "date code", and lists of
 * codes of one shape, that no statement covers. Kept as they are printed, for a person to read; never taken as models.
 */
export function unreadSpans(passage: Passage, tokens: readonly Token[], understood: readonly Span[]): Span[] {
  const isNamed = (token: Token) =>
    understood.some(({ reads }) => reads === token.text || (reads.includes(" ") && reads.split(" ").includes(token.text)));
  const here = understood.filter((one) => one.field === passage.field && (one.index ?? null) === passage.index && isStatement(one));
  const candidates = tokens.flatMap((token, at) =>
    looksPrinted(token) && !here.some((one) => meets(one, token)) && !isNamed(token) ? [at] : [],
  );
  if (candidates.length === 0) return [];
  const silent = [...negatedClauses(passage.clean, tokens), ...earlierRecalls(passage.clean, tokens)];
  const open = candidates.filter((at) => !silent.some((one) => at >= one.from && at < one.to) && !isExample(tokens, at));
  const shapes = new Map<string, number>();
  for (const at of open) shapes.set(shapeOf(tokens[at]), (shapes.get(shapeOf(tokens[at])) ?? 0) + 1);
  return open
    .filter((at) => (shapes.get(shapeOf(tokens[at])) ?? 0) >= list || isNearCue(tokens, at))
    .slice(0, most)
    .map((at) => span(passage, tokens[at] as Token, "unread", (tokens[at] as Token).text));
}

function isStatement({ kind }: Span): boolean {
  return kind !== "brand" && kind !== "product" && kind !== "location";
}

function meets(one: Span, token: Token): boolean {
  return one.start < token.end && one.end > token.start;
}

/** Capitals with digits, or many digits. */
function looksPrinted(token: Token): boolean {
  if (token.kind === "number") return /^\d{6,}$/.test(token.text);
  return (
    isStrongCode(token) && token.text.length >= 5 && !isShopCode(token.text) && /^(?=.*[A-Z])(?=.*\d.*\d)[A-Z\d/._-]+$/.test(token.text)
  );
}

function shapeOf(token: Token | undefined): string {
  return (token?.text ?? "").replace(/\d/g, "0").replace(/[A-Z]/g, "A");
}

function isNearCue(tokens: readonly Token[], at: number): boolean {
  for (let before = at - 1; before >= 0 && before > at - reach && tokens[before]?.kind !== "stop"; before--) {
    const cue = cueAt(tokens, before);
    if (cue && cue.slot !== "made" && cue.slot !== "sold" && cue.next <= at) return true;
  }
  return false;
}

function isExample(tokens: readonly Token[], at: number): boolean {
  for (let before = at - 1; before >= 0 && before > at - reach && tokens[before]?.kind !== "stop"; before--)
    if (/^(?:example|e\.g|such)$/.test(tokens[before]?.lower ?? "")) return true;
  return false;
}
