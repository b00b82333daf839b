import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const models = (description: string) => understand(inventedNotice({ description })).models.include;

const cases: [sentence: string, models: string][] = [
  // Any suffix: beginnings.
  ["Model number QF200 with any suffix is included.", "QF200*"],
  ["Model numbers QF200 (any suffix) and QF300 are included.", "QF200* QF300"],
  ["Model QF200, regardless of suffix, is included.", "QF200*"],
  ["Models QF-100A/B and QF200, all suffixes, are included.", "QF-100A* QF-100B* QF200*"],
  ["Model numbers QF300 followed by any letters are included.", "QF300*"],
  ["Model numbers QF300 followed by two letters are included.", "QF300@@"],
  // Ends of a code in a list.
  ["Models QF10AA, AB, AC and QF20AD are included.", "QF10AA QF10AB QF10AC QF20AD"],
  ["Recalled models are QF10AA, AB, ACQF20AD, AE and QF30AA.", "QF10AA QF10AB QF10AC QF20AD QF20AE QF30AA"],
  ["The lamps are model QF10A, B and C.", "QF10A QF10B QF10C"],
  ["Models QF10AA, QF20AD and KT-1 are included.", "QF10AA QF20AD KT-1"],
  // A range of which only the tail is printed again.
  ["Model numbers QF10-01 to -05 are included.", "QF10-01 QF10-02 QF10-03 QF10-04 QF10-05"],
  ["Model numbers QF10-01 through 03 are included.", "QF10-01 QF10-02 QF10-03"],
  // A capital and a number apart.
  ["This recall involves dryers, model T 9820.", "T 9820"],
  // Models of letters.
  ["The valve of the QVCGA model hot water boilers can fail.", "QVCGA"],
  ["The QSC, QVG and QCG model cast iron boilers are included.", "QSC QVG QCG"],
  ["The LED model lamps are included.", ""],
  // A firm is no model, a voltage beside a name none either.
  ["Firm Models QBR Industries, Inc. of Tennant are recalled.", ""],
  ["The label reads in part “Larkfield” and “110V/60HZ”.", ""],
  ["This recall involves LARKFIELD 40V batteries.", ""],
  // What dots part on a label.
  ['The box is labeled in part, "SURGE PROTECTOR...NC NEW...ITEM QC-12862...MADE IN TENNANT."', "QC-12862"],
  ['The dryer has the words "STYLER...ASBESTOS FREE...HD-20...MADE IN TENNANT" printed on it.', "HD-20"],
  ["The model number, located on the label, is QF-12.", "QF-12"],
];

describe("models with tails, letters and labels", () => {
  it.each(cases)("%s", (sentence, expected) => {
    expect(models(sentence)).toEqual(expected === "" ? [] : expected.split(/ (?!9820)/));
  });

  it("letters that the headline has before the product are a brand, not a model", () => {
    const coverage = understand(
      inventedNotice({ title: "QVCGA Recalls Boilers", description: "The QVCGA model hot water boilers are recalled." }),
    );
    expect(coverage.models.include).toEqual([]);
  });
});
