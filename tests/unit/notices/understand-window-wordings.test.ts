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

const announced: typeof serials = [
  ["The serial number range for model QF-100 is from 12000 to 13000.", [{ from: "12000", to: "13000" }]],
  ["The serial number range for model QF-200 is 22000 through 23000.", [{ from: "22000", to: "23000" }]],
  [
    "The serial numbers for model QF-100 are 12000 through 13000 and for model QF-200 are 14000 to 15000.",
    [
      { from: "12000", to: "13000", for: ["QF-100"] },
      { from: "14000", to: "15000", for: ["QF-200"] },
    ],
  ],
];

const dateCodes: [sentence: string, windows: CodeWindow[]][] = [
  ["The heaters have model number 02044 and dates codes 06/06, 06/07 or 06/09.", patterns("06/06", "06/07", "06/09")],
  [
    "Recalled units have one of the following two-letter codes: EB, FB, GB, LB AC, BC, CC, DC AD, BD.",
    patterns("EB", "FB", "GB", "LB", "AC", "BC", "CC", "DC", "AD", "BD"),
  ],
  ["The date code is in the YYWW format (1816 means year 2018, week 16).", []],
  ["The date code range for SKU 9-5250 is from 1734 to 1823.", [{ from: "1734", to: "1823" }]],
  ['The date code is the four-digit code following the letters "QAG" in the serial number.', []],
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
  it.each([...serials, ...announced])("%s", (sentence, windows) => {
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
