import type { CodeItem } from "./code-item";
import type { CodeWindow } from "./coverage";
import { toPattern, type WildcardMeaning } from "./wildcards";

/** Values of a serial or date-code list -> windows. Endpoints of ranges stand as printed; single values become patterns. */
export function codeWindow(item: CodeItem, meaning: WildcardMeaning): CodeWindow {
  if (item.to !== null) return { from: item.from, to: item.to, ...(item.operator === "begins" ? { as: "beginning" } : {}) };
  if (item.operator === "upTo" || item.operator === "below") return { from: "", to: item.from };
  if (item.operator === "above" || item.operator === "from") return { from: item.from, to: "" };
  const pattern = toPattern(item.from, meaning);
  if (item.operator === "begins") return { pattern: /[*?#@]$/.test(pattern) ? pattern : `${pattern}*` };
  if (item.operator === "ends") return { pattern: `*${pattern}` };
  return { pattern: item.operator === "contains" ? `*${pattern}*` : pattern };
}

/** A window as one text, to tell equal ones: `from..to` or the pattern. */
export function windowText(window: CodeWindow | { from: string | null; to: string | null }): string {
  if ("pattern" in window) return window.pattern;
  return `${window.from ?? ""}..${window.to ?? ""}`;
}
