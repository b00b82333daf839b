import { patternKey } from "@/lib/identity/code-pattern";
import { makerKey } from "@/lib/identity/maker";
import type { CodeWindow, Coverage, MadeWindow } from "./coverage";

/** One statement of a coverage, by itself: what a person can take out of a reading or add to it. */
export type Statement =
  | { readonly kind: "model" | "excluded"; readonly pattern: string }
  | { readonly kind: "all_models" }
  | { readonly kind: "serial" | "dateCode"; readonly window: CodeWindow }
  | { readonly kind: "made"; readonly window: MadeWindow }
  | { readonly kind: "upc" | "brand" | "product"; readonly text: string };

export type StatementKind = Statement["kind"];
export const statementKinds: readonly StatementKind[] = [
  "model",
  "excluded",
  "all_models",
  "serial",
  "dateCode",
  "made",
  "upc",
  "brand",
  "product",
];

/** Every statement of a coverage, in a fixed order. */
export function statementsOf({ models, serials, dateCodes, made, upcs, brands, products }: Coverage): Statement[] {
  return [
    ...(models.stated === "all" ? [{ kind: "all_models" } as const] : []),
    ...models.include.map((pattern) => ({ kind: "model", pattern }) as const),
    ...models.exclude.map((pattern) => ({ kind: "excluded", pattern }) as const),
    ...serials.map((window) => ({ kind: "serial", window }) as const),
    ...dateCodes.map((window) => ({ kind: "dateCode", window }) as const),
    ...made.map((window) => ({ kind: "made", window }) as const),
    ...upcs.map((text) => ({ kind: "upc", text }) as const),
    ...brands.map((text) => ({ kind: "brand", text }) as const),
    ...products.map((text) => ({ kind: "product", text }) as const),
  ];
}

function windowKey(window: CodeWindow | MadeWindow): string {
  const bounds = "pattern" in window ? [patternKey(window.pattern)] : [patternKey(window.from ?? ""), patternKey(window.to ?? "")];
  const ties = [...(window.for ?? [])].map((tie) => tie.toUpperCase()).sort();
  return [bounds.join(".."), window.as ?? "", ...ties].join("|");
}

/** A statement as one text: two of one key say the same, however they are printed. */
export function statementKey(statement: Statement): string {
  if (statement.kind === "all_models") return statement.kind;
  if ("pattern" in statement) return `${statement.kind}:${patternKey(statement.pattern)}`;
  if ("window" in statement) return `${statement.kind}:${windowKey(statement.window)}`;
  const { kind, text } = statement;
  const folded =
    kind === "brand" ? makerKey(text) : kind === "upc" ? text.replace(/\D/g, "") : text.toLowerCase().replace(/\s+/g, " ").trim();
  return `${kind}:${folded}`;
}

export const statementNames: Readonly<Record<StatementKind, string>> = {
  model: "Model",
  excluded: "Left out",
  all_models: "All models",
  serial: "Serial numbers",
  dateCode: "Date codes",
  made: "Made",
  upc: "Product number",
  brand: "Maker",
  product: "Product",
};

function windowWords(window: CodeWindow | MadeWindow): string {
  const range = "pattern" in window ? window.pattern : `${window.from || "any"} to ${window.to || "any"}`;
  const ties = window.for && window.for.length > 0 ? ` (for ${window.for.join(", ").replaceAll("brand:", "")})` : "";
  return `${range}${window.as ? `, runs as ${window.as}` : ""}${ties}`;
}

/** What a statement says, without its kind: `HT-15##`, `2331 to 2409, runs as YYWW`. */
export function statementWords(statement: Statement): string {
  if (statement.kind === "all_models") return "every model of the product";
  if ("pattern" in statement) return statement.pattern;
  return "window" in statement ? windowWords(statement.window) : statement.text;
}
