import { describe, expect, it } from "vitest";
import type { CodeWindow } from "@/lib/notices/coverage";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const read = (description: string) => understand(inventedNotice({ description }));
const patterns = (...all: string[]): CodeWindow[] => all.map((pattern) => ({ pattern }));

const serials: [sentence: string, windows: CodeWindow[]][] = [
  [
    "The serial number can be located on the rim of the door, and is written as “Nr:xx/” followed by an 8-digit number in the range from 66461685 to 89921848.",
    [{ from: "66461685", to: "89921848" }],
  ],
  ["The serial number is located on the back, between 2 and 5 inches from the plug.", []],
  ["The serial number, stamped on the base, is QW7-3401.", patterns("QW7-3401")],
  [
    "The serial numbers of the recalled cooktops are: For model number QF3026, they are 1F0059 through 1F1109, and 3F5370 through 3F6130. For model number QF3626, they are 2F0059 through 2F1039.",
    [
      { from: "1F0059", to: "1F1109" },
      { from: "3F5370", to: "3F6130" },
      { from: "2F0059", to: "2F1039" },
    ],
  ],
];

const dateCodes: [sentence: string, windows: CodeWindow[]][] = [
  ["The heaters have model number 02044 and dates codes 06/06, 06/07 or 06/09.", patterns("06/06", "06/07", "06/09")],
  [
    "Recalled units have one of the following two-letter codes: EB, FB, GB, LB AC, BC, CC, DC AD, BD.",
    patterns("EB", "FB", "GB", "LB", "AC", "BC", "CC", "DC", "AD", "BD"),
  ],
  ["The throws come with a two-letter color code, BL or GR.", []],
  [
    "The tracker numbers fall within the following range: Tracker Number Range 05012218641-06302218641 050122E0551-063022E0551",
    [
      { from: "05012218641", to: "06302218641" },
      { from: "050122E0551", to: "063022E0551" },
    ],
  ],
];

describe("serial numbers, as notices word them", () => {
  it.each(serials)("%s", (sentence, windows) => {
    expect(read(sentence).serials).toEqual(windows);
  });

  it("what a sentence about models announces is no model", () => {
    expect(read(serials[3]?.[0] ?? "").models.include).toEqual(["QF3026", "QF3626"]);
  });
});

describe("date codes, as notices word them", () => {
  it.each(dateCodes)("%s", (sentence, windows) => {
    expect(read(sentence).dateCodes).toEqual(windows);
  });

  it("“since at least” bounds nothing", () => {
    expect(read("The kettles have been produced since at least 1998.").made).toEqual([]);
  });
});
