import { readCodeList } from "./code-list";
import { codeWindow, windowText } from "./code-windows";
import { type Draft, span } from "./draft";
import type { Notice } from "./notice";
import { passage } from "./passage";
import { daysInMonth } from "./published-date";
import { passageTokens } from "./read-prose";
import type { WildcardMeaning } from "./wildcards";

/** The columns of a list that has them: models, serials, dates of manufacture, UPCs. They are read by the same grammar. */
export function readStated(notice: Notice, meaning: WildcardMeaning, draft: Draft): void {
  readColumn(notice.statedModels, "statedModels", "model", meaning, draft);
  readColumn(notice.statedSerials, "statedSerials", "serial", meaning, draft);
  const from = wholeDays(notice.madeFrom);
  const to = wholeDays(notice.madeTo);
  if (from || to) draft.made.push({ window: { from: from?.first ?? null, to: to?.last ?? null }, row: null });
  notice.upcs.forEach((printed, index) => {
    const digits = printed.replace(/\D/g, "");
    if (digits.length < 8 || digits.length > 14) return;
    draft.upcs.push(digits);
    draft.spans.push({ field: "upcs", index, start: 0, end: printed.length, kind: "upc", reads: digits });
  });
}

function readColumn(
  text: string | null,
  field: "statedModels" | "statedSerials",
  slot: "model" | "serial",
  meaning: WildcardMeaning,
  draft: Draft,
): void {
  if (text === null) return;
  const column = passage(field, text);
  const list = readCodeList(passageTokens(column), { slot, next: 0, numbered: true, named: false });
  for (const item of list?.items ?? []) {
    if (slot === "model")
      draft.models.push({ passage: column, item, evidence: "cue", excluded: item.excluded, conditional: false, row: null });
    else {
      const window = codeWindow(item, meaning);
      draft.serials.push({ window, row: null });
      draft.spans.push(span(column, item, "serial", windowText(window)));
    }
  }
}

/** `2019`, `2019-04`, `2019-04-30` -> first and last whole day. */
function wholeDays(text: string | null): { first: string; last: string } | null {
  const match = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/.exec(text?.trim() ?? "");
  if (!match) return null;
  const [, year = "", month, day] = match;
  if (day !== undefined) return { first: `${year}-${month}-${day}`, last: `${year}-${month}-${day}` };
  if (month === undefined) return { first: `${year}-01-01`, last: `${year}-12-31` };
  return { first: `${year}-${month}-01`, last: `${year}-${month}-${daysInMonth(Number(year), Number(month))}` };
}
