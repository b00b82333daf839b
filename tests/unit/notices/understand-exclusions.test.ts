import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const modelsOf = (description: string) => understand(inventedNotice({ description })).models;

const cases: [sentence: string, include: string[], exclude: string[]][] = [
  [
    "This recall involves models LF-10 and LF-20. The semi-flush lamp (model number LF-30) is not affected by this recall.",
    ["LF-10", "LF-20"],
    ["LF-30"],
  ],
  ["The model numbers are LF-10 and LF-20. Model LF-25 is not included in this recall.", ["LF-10", "LF-20"], ["LF-25"]],
  ["This recall involves model numbers beginning with LF-1, except LF-12 and LF-14.", ["LF-1*"], ["LF-12*", "LF-14*"]],
  ["This recall involves model LF-10 and the other LF fans except LF-14 and LF-15.", ["LF-10"], ["LF-14", "LF-15"]],
  [
    "Models LF-10, LF-11 and LF-12 are recalled. All are offered in black, except LF-12, which is offered in red.",
    ["LF-10", "LF-11", "LF-12"],
    [],
  ],
  ["This recall includes model LF-10 but does not include model LF-11.", ["LF-10"], ["LF-11"]],
  ["Model LF-10 is recalled; model LF-11 is not recalled.", ["LF-10"], ["LF-11"]],
  ["Model LF-10 kettles are recalled. Model LF-10 kettles with a green sticker are not included in this recall.", ["LF-10"], []],
  ["This recall involves model LF-10. No other Larkfield kettles are affected.", ["LF-10"], []],
  [
    "Models LF-10 and LF-20 are recalled. Grey models LF-10-GRY and LF-21 are not a part of this recall.",
    ["LF-10", "LF-20"],
    ["LF-10-GRY", "LF-21"],
  ],
  ["Model LF-10 is recalled. Model LF-11 is exempt from this recall.", ["LF-10"], ["LF-11"]],
  ["Model LF-10 is recalled. Model LF-11 was not in the recall.", ["LF-10"], ["LF-11"]],
  ["Model LF-10 is recalled. Models LF-11 and LF-12 are not believed to be affected.", ["LF-10"], ["LF-11", "LF-12"]],
  ["Not all kettles with model number LF-10 are included in this recall.", ["LF-10"], []],
];

describe("exclusions", () => {
  it.each(cases)("%s", (sentence, include, exclude) => {
    expect(modelsOf(sentence)).toMatchObject({ include, exclude });
  });

  it("never become inclusions, whatever the codes and the wording", () => {
    const code = fc.stringMatching(/^[A-Z]{2}-[1-9][0-9]{2}$/);
    const wording = fc.constantFrom(
      (out: string) => `Model ${out} is not included in this recall.`,
      (out: string) => `Kettles with model number ${out} are not affected.`,
      (out: string) => `The recall does not include model ${out}.`,
      (out: string) => `Model numbers ${out} and ZZ-999 are not part of this recall.`,
      (out: string) => `Black models ${out} and ZZ-999 are not a part of this recall.`,
      (out: string) => `Model ${out} is not currently under recall.`,
      (out: string) => `The larger kettle (model ${out}) is not involved.`,
    );
    fc.assert(
      fc.property(code, code, wording, (listed, out, say) => {
        fc.pre(listed !== out && out !== "ZZ-999");
        const models = modelsOf(`This recall involves kettles with model number ${listed}. ${say(out)}`);
        return models.include.includes(listed) && !models.include.includes(out) && models.exclude.includes(out);
      }),
    );
  });

  it("are marked in the text as such", () => {
    const description = "This recall involves model LF-10. Model LF-25 is not included.";
    const spans = understand(inventedNotice({ description })).spans.filter((span) => span.kind === "excluded");
    expect(spans.map((span) => description.slice(span.start, span.end))).toEqual(["LF-25"]);
  });
});
