import { z } from "zod";
import { patternKey } from "@/lib/identity/code-pattern";
import { dateOrder } from "@/lib/identity/date-code";
import { toGtin14 } from "@/lib/identity/gtin";
import { makerKey } from "@/lib/identity/maker";
import type { Quoted } from "@/lib/notices/correction";
import type { CodeWindow, MadeWindow } from "@/lib/notices/coverage";
import { type Statement, statementKinds } from "@/lib/notices/statement";

/** How patterns are written, said wherever one is asked for. */
export const patternSyntax =
  "Write the code as printed. # stands for one digit, @ for one letter, ? for any one character, * for any run of characters, also none: HT-15## or KM23*.";

const longest = 120;
const blankToNull = (text: string) => (text.trim() === "" ? null : text.trim());
const short = z.string().max(longest, `Write at most ${longest} characters.`).default("");
const fields = ["title", "description", "productNames", "statedModels", "statedSerials", "statedBrands", "makers", "upcs", "made"] as const;

/** What a form or a caller hands over for a statement to be added; which fields count depends on its kind. */
export const statementForm = z.object({
  kind: z.enum(statementKinds, "Choose what the statement is about."),
  /** A pattern, a product number or a name. */
  text: short,
  from: short,
  to: short,
  /** How the values run, such as YYWW; empty where the notice does not say. */
  as: short,
  /** The models it is for, separated by commas; empty is all. */
  models: z.string().max(1000, "Name at most 1,000 characters of models.").default(""),
});
export type StatementForm = z.input<typeof statementForm>;

/** Words of the notice that a correction rests on, as an address or form carries them. */
export const quotedForm = z.object({
  field: z.enum(fields),
  index: z.coerce.number().int().min(0).max(10_000).optional(),
  start: z.coerce.number().int().min(0).max(10_000_000),
  quote: z.string().min(1).max(4000),
});

export function toQuoted({ index, ...rest }: z.output<typeof quotedForm>): Quoted {
  return { ...rest, ...(index === undefined ? {} : { index }) };
}

class Wrong extends Error {
  constructor(
    readonly field: "text" | "from" | "to" | "as" | "models",
    sentence: string,
  ) {
    super(sentence);
  }
}

/** A pattern with at least two letters or digits of its own: anything less would fit half the registry. */
function checkedPattern(text: string, field: "text" | "models" = "text"): string {
  const pattern = text.trim().replace(/\s+/g, " ");
  if (pattern === "") throw new Wrong(field, `Write the pattern. ${patternSyntax}`);
  if (!/^[\p{L}\p{N}\p{M}\s\-./+&,:()?#@*_]+$/u.test(pattern))
    throw new Wrong(field, `“${pattern}” holds a sign that no code has. ${patternSyntax}`);
  if (patternKey(pattern).replace(/[?#@*]/g, "").length < 2)
    throw new Wrong(field, `“${pattern}” fits almost any code: give at least two letters or digits. ${patternSyntax}`);
  return pattern;
}

const dayShape = /^\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])$/;

function checkedDay(text: string, field: "from" | "to"): string | null {
  const day = blankToNull(text);
  if (day === null) return null;
  const at = new Date(`${day}T00:00:00Z`);
  if (!dayShape.test(day) || Number.isNaN(at.getTime()) || at.toISOString().slice(0, 10) !== day)
    throw new Wrong(field, `“${day}” is no day: write it as YYYY-MM-DD, such as 2023-07-31.`);
  return day;
}

type Given = z.output<typeof statementForm>;

function ties({ models }: Given): { for?: string[] } {
  const named = models
    .split(",")
    .map((one) => one.trim())
    .filter((one) => one !== "");
  return named.length === 0 ? {} : { for: named.map((one) => checkedPattern(one, "models")) };
}

function checkedOrder({ as }: Given): { as?: string } {
  const order = as.trim();
  if (order === "") return {};
  if (order.toLowerCase() === "beginning") return { as: "beginning" };
  if (dateOrder(order) === null)
    throw new Wrong(
      "as",
      `“${order}” is no order: write Y, M, W and D as they run, such as YYWW, WWYY or YYYYMM; or “beginning” where the values are only the first characters.`,
    );
  return { as: order.toUpperCase() };
}

function codeWindow(given: Given): CodeWindow {
  const [from, to] = [given.from.trim(), given.to.trim()];
  if (from === "" && to === "") return { pattern: checkedPattern(given.text), ...ties(given) };
  if (given.text.trim() !== "") throw new Wrong("text", "Give either a pattern or the first and last value, not both.");
  for (const [field, bound] of [
    ["from", from],
    ["to", to],
  ] as const) {
    if (bound !== "" && !/[\p{L}\p{N}]/u.test(bound))
      throw new Wrong(field, `“${bound}” holds no letter or digit: write the code as printed.`);
  }
  return { from, to, ...ties(given), ...checkedOrder(given) };
}

function madeWindow(given: Given): MadeWindow {
  const from = checkedDay(given.from, "from");
  const to = checkedDay(given.to, "to");
  if (from === null && to === null) throw new Wrong("from", "Give the first day, the last day, or both.");
  if (from !== null && to !== null && from > to) throw new Wrong("to", `The last day ${to} is before the first, ${from}: swap them.`);
  return { from, to, ...ties(given) };
}

function checkedText({ kind, text }: Given): string {
  const said = text.trim().replace(/\s+/g, " ");
  if (kind === "upc") {
    if (toGtin14(said) === null)
      throw new Wrong(
        "text",
        "That is no product number: it has 8, 12, 13 or 14 digits, the last of which must check. Look at the bar code again.",
      );
    return said.replace(/\D/g, "");
  }
  const folded = kind === "brand" ? makerKey(said) : said.replace(/[^\p{L}]/gu, "");
  if (folded.length < 2)
    throw new Wrong("text", kind === "brand" ? "Write the maker's name." : "Write the kind of product, such as “space heater”.");
  return said;
}

function toStatement(given: Given): Statement {
  const { kind } = given;
  if (kind === "all_models") return { kind };
  if (kind === "model" || kind === "excluded") return { kind, pattern: checkedPattern(given.text) };
  if (kind === "serial" || kind === "dateCode") return { kind, window: codeWindow(given) };
  if (kind === "made") return { kind, window: madeWindow(given) };
  return { kind, text: checkedText(given) };
}

/** The statement that a form means; what is wrong is told at its field, with how to write it. */
export function readStatement(given: Given, context: z.RefinementCtx): Statement {
  try {
    return toStatement(given);
  } catch (error) {
    if (!(error instanceof Wrong)) throw error;
    context.addIssue({ code: "custom", path: [error.field], message: error.message });
    return z.NEVER;
  }
}

/** Parses a statement form into a statement. */
export const statementInput = statementForm.transform(readStatement);
