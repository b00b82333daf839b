import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { diffWords, wordingChanges } from "@/lib/notices/wording-diff";
import { inventedNotice } from "./invented-notice";

const words = (text: string) => text.split(/\s+/).filter((word) => word !== "");
const text = fc
  .array(fc.constantFrom("heater", "model", "HT-15", "not", "the", "fan", ","), { maxLength: 30 })
  .map((list) => list.join(" "));

describe("the words of an amended notice", () => {
  it.each<[string, string, [string, string][]]>([
    ["all heaters", "all heaters", [["same", "all heaters"]]],
    ["", "Full refund.", [["new", "Full refund."]]],
    ["Full refund.", "", [["gone", "Full refund."]]],
    [
      "model HT-1 only",
      "model HT-1, HT-2 only",
      [
        ["same", "model"],
        ["gone", "HT-1"],
        ["new", "HT-1, HT-2"],
        ["same", "only"],
      ],
    ],
    [
      "Units marked Rev. D are not included.",
      "Units are included.",
      [
        ["same", "Units"],
        ["gone", "marked Rev. D"],
        ["same", "are"],
        ["gone", "not"],
        ["same", "included."],
      ],
    ],
  ])("%j, then %j", (before, after, pieces) => {
    expect(diffWords(before, after).map((piece) => [piece.kind, piece.text.trim()])).toEqual(pieces);
  });

  it("are those of the earlier text without what came, and those of the later without what went", () => {
    fc.assert(
      fc.property(text, text, (before, after) => {
        const pieces = diffWords(before, after);
        const without = (kind: string) => words(pieces.flatMap((piece) => (piece.kind === kind ? [] : [piece.text])).join(" "));
        expect(without("new")).toEqual(words(before));
        expect(without("gone")).toEqual(words(after));
      }),
    );
  });

  it("show as little as changed: one word amid many is one gone and one new", () => {
    const many = Array.from({ length: 60 }, (_, at) => `w${at}`);
    const changed = many.map((word, at) => (at === 30 ? "other" : word));
    expect(diffWords(many.join(" "), changed.join(" ")).map(({ kind, text: piece }) => [kind, words(piece).length])).toEqual([
      ["same", 30],
      ["gone", 1],
      ["new", 1],
      ["same", 29],
    ]);
  });

  it("of huge texts are compared within a second, whole where they have nothing in common", () => {
    const before = Array.from({ length: 60_000 }, (_, at) => `a${at}`).join(" ");
    const after = Array.from({ length: 60_000 }, (_, at) => `b${at}`).join(" ");
    expect(diffWords(before, after).map(({ kind }) => kind)).toEqual(["gone", "new"]);
  });

  it("are told part by part, long stretches that stayed cut short", () => {
    const description = Array.from({ length: 80 }, (_, at) => `word${at}`).join(" ");
    const before = inventedNotice({ description, remedy: null });
    const after = inventedNotice({ description: `${description} Rev. D is not included.`, remedy: "Full refund." });
    const changes = wordingChanges(before, after);
    expect(changes.map(({ part }) => part)).toEqual(["Description", "Remedy"]);
    const [kept, added] = changes[0]?.pieces ?? [];
    expect([added?.kind, added?.text.trim()]).toEqual(["new", "Rev. D is not included."]);
    expect(words(kept?.text ?? "").length).toBeLessThan(15);
    expect(wordingChanges(before, before)).toEqual([]);
  });
});
