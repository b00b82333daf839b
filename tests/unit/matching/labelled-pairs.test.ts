import { readFileSync } from "node:fs";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import type { Grade } from "@/lib/matching/candidate";
import { crossCheck } from "@/lib/matching/cross-check";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import { readNoticeList } from "@/lib/notices/read-list";
import { understand } from "@/lib/notices/understand";

// Invented pairs, labelled by hand with what a careful reader would say; a gate for every change of weights and rules.
const folder = "tests/fixtures/matching";
const list = readNoticeList(readFileSync(`${folder}/notices.csv`));
const index = buildRecallIndex(list.ok ? list.notices.map((notice) => ({ key: notice.key, coverage: understand(notice), notice })) : []);
const rows = Papa.parse<Record<string, string>>(readFileSync(`${folder}/appliances.csv`, "utf8"), {
  header: true,
  skipEmptyLines: true,
}).data;

const allowed: Readonly<Record<string, readonly (Grade | "none")[]>> = {
  covered: ["covered", "likely"],
  undecidable: ["check_label"],
  not_covered: ["none"],
};

describe("labelled pairs", () => {
  it.each(rows.map((row) => [row["tag"] ?? "", row] as const))("%s is graded as a careful reader would", (tag, row) => {
    const cell = (name: string): string | null => (row[name] === "" ? null : (row[name] ?? null));
    const found = crossCheck(index, {
      id: tag,
      brand: cell("brand"),
      model: cell("model"),
      serial: cell("serial"),
      dateCode: null,
      made: cell("made"),
      category: cell("category"),
      upc: cell("upc"),
      labelText: cell("label_text"),
    });
    const own = found.find(({ noticeKey }) => noticeKey === row["notice"]);
    expect(allowed[row["truth"] ?? ""]).toContain(own?.grade ?? "none");
    expect(found.filter((candidate) => candidate !== own)).toEqual([]);
    expect(own === undefined || (own.grade === "check_label") === (own.ask !== null)).toBe(true);
  });
});
