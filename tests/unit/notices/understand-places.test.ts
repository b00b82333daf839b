import { describe, expect, it } from "vitest";
import type { CodeWindow } from "@/lib/notices/coverage";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const read = (description: string) => understand(inventedNotice({ description }));
const patterns = (...all: string[]): CodeWindow[] => all.map((pattern) => ({ pattern }));
const each = (heads: string, tails: string[]) => [...heads].flatMap((head) => tails.map((tail) => head + tail));

const serials: [sentence: string, windows: CodeWindow[]][] = [
  ["The third and fourth digits of the serial number are 12, 13 or 14.", patterns("??12*", "??13*", "??14*")],
  ["The serial number's third character is a B, C or D.", patterns("??B*", "??C*", "??D*")],
  ["The fifth character of the serial number is E.", patterns("????E*")],
  ["Serial numbers with a 7 in the third position are included.", patterns("??7*")],
  ["Recalled fans have serial numbers containing the letters KM in the fifth and sixth positions.", patterns("????KM*")],
  ["Fans with the first two digits of the serial number between 20 and 22 are included.", patterns("20*", "21*", "22*")],
  ["The first letter of the serial number is G and the second letter is A, D or F.", patterns("GA*", "GD*", "GF*")],
  [
    "The serial numbers start with the letter T or U and the next two digits are 01 through 03.",
    patterns(...each("TU", ["01*", "02*", "03*"])),
  ],
  ["Only serial numbers that start with FA or FB and have 12 as the last two digits are included.", patterns("FA*12", "FB*12")],
  ["The last two digits of the serial number are lower than 12.", [{ from: "*00", to: "*11" }]],
  ["The date code has five digits. The last three digits of the serial number are lower than 075.", [{ from: "*000", to: "*074" }]],
  ["Serial numbers that begin with LK and end in 1998 through 2001 are included.", patterns("LK*1998", "LK*1999", "LK*2000", "LK*2001")],
  ["The first four digits of the serial number will be between 0112 and 0648.", [{ from: "0112", to: "0648", as: "beginning" }]],
  ["Serial numbers starting with 10001 and ending with 20500 are included.", [{ from: "10001", to: "20500" }]],
  ["The serial number has the alpha characters AJ through AL or CA.", patterns("*AJ*", "*AK*", "*AL*", "*CA*")],
  [
    "The grills have serial numbers beginning with the letters A or B followed by numbers between 10001 and 20500.",
    [
      { from: "A10001", to: "A20500" },
      { from: "B10001", to: "B20500" },
    ],
  ],
  ["The recalled heaters have a serial number with the prefix QT and numbers 20100 to 20950.", [{ from: "QT20100", to: "QT20950" }]],
  ["The serial number prefix is LKA, LKB or LKC.", patterns("LKA*", "LKB*", "LKC*")],
  ["The first two digits of the serial number are the year.", []],
  ["The serial number is 16 digits long and is printed on the first page of the manual.", []],
];

const dateCodes: [sentence: string, windows: CodeWindow[]][] = [
  [
    "Six-digit date codes with the two middle digits between “21” and “23” and ending in “04” are included.",
    patterns("??2104", "??2204", "??2304"),
  ],
  [
    'Date codes ending in "04" with the two middle digits of the six-digit code between "51" and "52" or ending in "05" are included.',
    patterns("??5104", "??5204", "????05"),
  ],
  [
    'Only those machines bearing the letters "G", "H" and "L", and the number "75" are affected. (For example, "G-75".)',
    patterns("G-75", "H-75", "L-75"),
  ],
  ["Only machines bearing the letters G and H and the number 75 are affected.", patterns("G75", "H75")],
  [
    "The ice machines have the letters D, E or X in the date code or have a date code of -01K or -02K.",
    patterns("*D*", "*E*", "*X*", "01K", "02K"),
  ],
  ["The cookers have series codes A through D which are printed on the bottom.", patterns("A", "B", "C", "D")],
  ["They have a manufacturing code which ends in the numbers 6, 7 or 8.", patterns("*6", "*7", "*8")],
  ["The date codes between 03.16.2029 and 05.18.2029 are under the barcode.", [{ from: "03.16.2029", to: "05.18.2029" }]],
  ["A date code of DEC 2029 is stamped into the ramp.", patterns("DEC 2029")],
  ["Date codes QL101 running through QL158 are included.", [{ from: "QL101", to: "QL158" }]],
  ["The four-digit date code is between 1201 (January 2012) and 1306 (June 2013).", [{ from: "1201", to: "1306" }]],
  ["Production codes 12A through 12F are included.", [{ from: "12A", to: "12F" }]],
  ["The units are stamped with code numbers starting at 38-1 and ending at 21-2.", [{ from: "38-1", to: "21-2" }]],
  ["The lot number falls into this range. QAS advises consumers to check it.", []],
];

const orders: [sentence: string, order: string | undefined][] = [
  ["Date codes 3402 through 1203 are included. The first two digits are the week and the last two digits are the year.", "WWYY"],
  ["Date codes 0145 through 0152 are included. The first two digits indicate the year and the last two indicate the week.", "YYWW"],
  ["Date codes from 9826 to 9913 are included. The third and fourth digits are the week of production and the first two the year.", "YYWW"],
  ["Date codes 423 through 512 are included. The first digit is the year and the next two digits are the week.", "YWW"],
  ["Date codes 01198 through 12398 are included. The first three digits are the day of the year and the last two the year.", "DDDYY"],
  ["Date codes 38-1 to 21-2 are included. The first two digits represent the week and the third digit represents the year.", "WWY"],
  ["Date code of WW/YY from 22/14 through 40/15 is included.", "WW/YY"],
  ["Date codes “0912” to “1012” (MMYY) are included.", "MMYY"],
  ["Date codes QOO3 to Q406 are included. The six digit date code is in day, month, and year sequence.", undefined],
  ["Date codes 0912 to 1012 are included. The first two digits are the week.", undefined],
];

describe("serial numbers by the places of their characters", () => {
  it.each(serials)("%s", (sentence, windows) => {
    expect(read(sentence).serials).toEqual(windows);
  });
});

describe("date codes by the places of their characters", () => {
  it.each(dateCodes)("%s", (sentence, windows) => {
    expect(read(sentence).dateCodes).toEqual(windows);
  });
});

describe("how date codes run", () => {
  it.each(orders)("%s", (sentence, order) => {
    expect(read(sentence).dateCodes[0]?.as).toBe(order);
  });
});

describe("models by the places of their characters", () => {
  it("takes the beginning and the end as one pattern", () => {
    expect(read("The model numbers start with “LF” and end with “K”.").models.include).toEqual(["LF*K"]);
  });

  it("takes a character in the middle", () => {
    expect(read("The model numbers begin with LF and the fifth character is E.").models.include).toEqual(["LF??E*"]);
  });
});
