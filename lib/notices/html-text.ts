import { unescapeHtml } from "./unescape-html";

const lineEnds = /<\/?(?:p|div|br|li|ul|ol|tr|table|tbody|thead|h[1-6]|dl|dt|dd|section|caption)\b[^<>]{0,2000}>/gi;
const cellEnds = /<\/t[dh]\s*>/gi;
const anyTag = /<\/?[a-z][^<>]{0,2000}>/gi;

/**
 * Text with mark-up -> the text that a reader sees: paragraphs, list points and table rows on lines of their own, cells apart by
 * a tab. A text without mark-up only has its character references read. The words themselves are not edited.
 */
export function htmlText(text: string): string {
  if (!/<[a-z!/]/i.test(text)) return unescapeHtml(text).trim();
  const shown = without(without(without(text, "<!--", "-->"), "<script", "</script"), "<style", "</style");
  const plain = shown.replace(/\s+/g, " ").replace(cellEnds, "\t").replace(lineEnds, "\n").replace(anyTag, "");
  const lines = unescapeHtml(plain).split("\n");
  return lines
    .map((line) => line.replace(/ *\t */g, "\t").trim())
    .filter((line) => line !== "")
    .join("\n");
}

/** The text without what stands from each `open` to its `close`; an `open` that is never closed stays. */
function without(text: string, open: string, close: string): string {
  const lower = text.toLowerCase();
  const kept: string[] = [];
  let from = 0;
  for (;;) {
    const start = lower.indexOf(open, from);
    const end = start < 0 ? -1 : lower.indexOf(close, start + open.length);
    if (end < 0) return kept.join("") + text.slice(from);
    kept.push(text.slice(from, start));
    from = end + close.length;
  }
}
