import { describe, expect, it } from "vitest";
import type { CodeWindow, MadeWindow } from "@/lib/notices/coverage";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const read = (description: string) => understand(inventedNotice({ description }));

const serials: [sentence: string, windows: CodeWindow[]][] = [
  [
    "The kettles have serial numbers from 18617201 to 18968311 and from 10006001 to 10006009.",
    [
      { from: "18617201", to: "18968311" },
      { from: "10006001", to: "10006009" },
    ],
  ],
  ["The stoves have the following serial number range RQ000001 through RQ006788.", [{ from: "RQ000001", to: "RQ006788" }]],
  ["Serial numbers between 1410 and 1503 are included.", [{ from: "1410", to: "1503" }]],
  ["The safes have the following serial number range: SQD2000 - SQD2319.", [{ from: "SQD2000", to: "SQD2319" }]],
  [
    "Serial number ranges 98020001-98129999 and 99010001-99129999 are included.",
    [
      { from: "98020001", to: "98129999" },
      { from: "99010001", to: "99129999" },
    ],
  ],
  [
    "The recalled models have a serial number starting with EEV, ERV or RFV.",
    [{ pattern: "EEV*" }, { pattern: "ERV*" }, { pattern: "RFV*" }],
  ],
  [
    "The serial numbers for the affected models begin with one of the following two letter combinations: DR, FR, GR.",
    [{ pattern: "DR*" }, { pattern: "FR*" }, { pattern: "GR*" }],
  ],
  ["They also have serial numbers ending in WU, WW and YH.", [{ pattern: "*WU" }, { pattern: "*WW" }, { pattern: "*YH" }]],
  ["Only machines that have serial numbers up to 67310 are covered.", [{ from: "", to: "67310" }]],
  ["Only units with serial numbers beginning with 10A through 18C are included.", [{ from: "10A", to: "18C", as: "beginning" }]],
  ["The first two digits of the serial number are 16 or 17.", [{ pattern: "16*" }, { pattern: "17*" }]],
  ["Serial numbers starting with 62xxxxxxxx are included.", [{ pattern: "62????????" }]],
  [
    "The dishwashers have a serial number that has a second letter of A, M or Z.",
    [{ pattern: "?A*" }, { pattern: "?M*" }, { pattern: "?Z*" }],
  ],
  [
    "The kettles have serial numbers with the first letter A through C and the second letter G.",
    [{ pattern: "AG*" }, { pattern: "BG*" }, { pattern: "CG*" }],
  ],
  [
    "The kettles have serial numbers with the first letter A or B and the second letter G, or the serial letters QF.",
    [{ pattern: "AG*" }, { pattern: "BG*" }, { pattern: "QF*" }],
  ],
  [
    "The models to be modified are SQ17 and SQ19, whose serial numbers begin with the letters IS, E, B, L, A or C.",
    [{ pattern: "IS*" }, { pattern: "E*" }, { pattern: "B*" }, { pattern: "L*" }, { pattern: "A*" }, { pattern: "C*" }],
  ],
  ["Serial numbers beginning with the letters K through M are included.", [{ pattern: "K*" }, { pattern: "L*" }, { pattern: "M*" }]],
  [
    "Only those bearing serial numbers commencing with the letters QUH and QUJ and followed by five numbers are affected.",
    [{ pattern: "QUH*" }, { pattern: "QUJ*" }],
  ],
  ["The serial number has “16”, “17” or “18” as the first two digits.", [{ pattern: "16*" }, { pattern: "17*" }, { pattern: "18*" }]],
  ["Serial numbers in which the first two digits are 15 or 17 are included.", [{ pattern: "15*" }, { pattern: "17*" }]],
  ["Serial numbers ending with the numbers 15 through 17 are included.", [{ pattern: "*15" }, { pattern: "*16" }, { pattern: "*17" }]],
  [
    "The serial number range is LK100001-LK200000 for model KT-1 and LK300001-LK400000 for model KT-2.",
    [
      { from: "LK100001", to: "LK200000" },
      { from: "LK300001", to: "LK400000" },
    ],
  ],
  [
    "Model KT-1 with serial numbers 100200 through 100900 and model KT-2 with serial numbers 200100 through 200500 are included.",
    [
      { from: "100200", to: "100900", for: ["KT-1"] },
      { from: "200100", to: "200500", for: ["KT-2"] },
    ],
  ],
  [
    "Model KT-1 (serial numbers 1000 through 2500) and models KT-2 and KT-3 (serial numbers 3000 through 4500) are included.",
    [
      { from: "1000", to: "2500", for: ["KT-1"] },
      { from: "3000", to: "4500", for: ["KT-2", "KT-3"] },
    ],
  ],
  ["Models KT-1 and KT-2 with serial numbers 100200 through 100900 are included.", [{ from: "100200", to: "100900" }]],
  ["Serial numbers 30067310 or lower are included.", [{ from: "", to: "30067310" }]],
  ["Serial numbers QD4400 and above are included.", [{ from: "QD4400", to: "" }]],
  [
    "This recall involves dispensers with serial numbers (some begin with two letters) 720- 10 or those that fall between 1100 and 3184000.",
    [{ pattern: "720-10" }, { from: "1100", to: "3184000" }],
  ],
  ["Owners should furnish model, serial number, name and address to Quillmere, Tennant, Iowa 52999.", []],
  ["The serial number begins with QD (for example, QD123456).", [{ pattern: "QD*" }]],
];

const dateCodes: [sentence: string, windows: CodeWindow[]][] = [
  ["A label has a date code from 9722 to 9848.", [{ from: "9722", to: "9848" }]],
  ["These products are marked “Date Code: 2116, 2416, or 3316”.", [{ pattern: "2116" }, { pattern: "2416" }, { pattern: "3316" }]],
  [
    "The kettles have date codes K196QN through K365QN and L001QN through L273QN.",
    [
      { from: "K196QN", to: "K365QN" },
      { from: "L001QN", to: "L273QN" },
    ],
  ],
  ["The batteries have a date code that begins with either 23 or 24.", [{ pattern: "23*" }, { pattern: "24*" }]],
  ["The slow cookers have date codes from 1912 through 2003.", [{ from: "1912", to: "2003" }]],
  ["The lot code C250306VQAW5 is printed on the box.", [{ pattern: "C250306VQAW5" }]],
  ['The toys carry "Batch Number: 202506001" on the label.', [{ pattern: "202506001" }]],
  ["Containers with blade date codes March 2018 (“03-18”) or earlier are covered.", [{ from: "", to: "03-18" }]],
  ["The date code shows the week and year; for example date code L4110 was produced in the 41st week. It is on the neck.", []],
  ['The date codes listed below may have the letters "QH " or "MQ " at the end.', []],
  [
    'Models with date codes of "411" through "816" are being recalled. The date code is a number on the plug, ("642" date code, for example, is inside the range; "921" is outside the range).',
    [{ from: "411", to: "816" }],
  ],
];

const made: [sentence: string, windows: MadeWindow[]][] = [
  ["The kettles were manufactured from February 2020 through August 2021.", [{ from: "2020-02-01", to: "2021-08-31" }]],
  ["The kettles were manufactured between July 1, 2017 and October 1, 2018.", [{ from: "2017-07-01", to: "2018-10-01" }]],
  ["This recall involves heaters manufactured in 2005.", [{ from: "2005-01-01", to: "2005-12-31" }]],
  ["The jars were manufactured before July 2023.", [{ from: null, to: "2023-06-30" }]],
  ["The jars were produced after June 30, 2023.", [{ from: "2023-07-01", to: null }]],
  ["Ovens manufactured under the Larkfield brand name on April 27, 2017 are included.", [{ from: "2017-04-27", to: "2017-04-27" }]],
  ["Manufacture dates between 12/1/2014 and 6/1/2015 are included.", [{ from: "2014-12-01", to: "2015-06-01" }]],
  ["Only helmets with a manufacture date of March 2025 are included.", [{ from: "2025-03-01", to: "2025-03-31" }]],
  ["The fryers were manufactured during weeks 22 through 30 of 1996.", [{ from: "1996-05-27", to: "1996-07-28" }]],
  ["Manufactured in April, May and June of 1989, the toasters are white.", [{ from: "1989-04-01", to: "1989-06-30" }]],
  ["They were manufactured between Sept. 9 and Nov. 11, 2027, in Tennant.", [{ from: "2027-09-09", to: "2027-11-11" }]],
  ["They were manufactured between March 8 and Nov. 11,2027 and distributed nationwide.", [{ from: "2027-03-08", to: "2027-11-11" }]],
  [
    "Coffeemakers made before April 28, 2024 are covered. No units made on or after April 28, 2024 are involved in this recall.",
    [{ from: null, to: "2024-04-27" }],
  ],
  [
    "Kettles manufactured between the 10th week of 2018 and the 20th week of 2019 are included.",
    [{ from: "2018-03-05", to: "2019-05-19" }],
  ],
  ["The kettles were produced on or after January 5, 2019 and before March 1, 2020.", [{ from: "2019-01-05", to: "2020-02-29" }]],
  ["The kettles were produced on or before March 1, 2020.", [{ from: null, to: "2020-03-01" }]],
  ["In its first announcement, made jointly with the maker in August 2027, the agency described the program.", []],
  ["The juicers are covered with date codes February 1998 and before.", [{ from: null, to: "1998-02-28" }]],
];

describe("serial numbers", () => {
  it.each(serials)("%s", (sentence, windows) => {
    expect(read(sentence).serials).toEqual(windows);
  });
});

describe("date codes stand as printed", () => {
  it.each(dateCodes)("%s", (sentence, windows) => {
    expect(read(sentence).dateCodes).toEqual(windows);
  });
});

/** Weeks of 1996 by ISO 8601: week 1 holds 4 January, so week 22 begins on Monday 27 May. */
describe("dates of manufacture are whole days", () => {
  it.each(made)("%s", (sentence, windows) => {
    expect(read(sentence).made).toEqual(windows);
  });
});

describe("dates of sale are no dates of manufacture", () => {
  const sentences = [
    "The kettles were sold from March 2029 through October 2030 for about $40.",
    "Kettles purchased between May 2029 and June 2030 are included.",
    "The kettles were made in Tennant and sold in 2030.",
  ];
  it.each(sentences)("%s", (sentence) => {
    expect(read(sentence).made).toEqual([]);
  });
});

describe("the order of date codes is stated, never guessed", () => {
  const cases: [sentence: string, order: string | undefined][] = [
    ["The date code reflects the week and year of manufacture. Date codes 4010 to 4510 are included.", "WWYY"],
    ["Date codes 03-17 through 03-18 are included. Date codes are in the format MM-YY.", "MM-YY"],
    ["The first two digits represent the month and the last two the year. Date codes 0113 through 1214 are included.", "MMYY"],
    ["Date codes 4010 to 4510 are included.", undefined],
    [
      "The date code is in day, month and year sequence. The first digit represents the year and the last two represent the month. Date codes 4010 to 4510.",
      undefined,
    ],
  ];
  it.each(cases)("%s", (sentence, order) => {
    expect(read(sentence).dateCodes.map((window) => window.as)).toEqual([order]);
  });

  it("an example is no window", () => {
    expect(read("For example, date code 4010 was produced in 2010. The date codes are 4110 and 4210.").dateCodes).toEqual([
      { pattern: "4110" },
      { pattern: "4210" },
    ]);
  });

  it("values said to be the first digits are beginnings", () => {
    expect(read("Units where the first four digits of the serial number are between 5301 and 5642 are included.").serials).toEqual([
      { from: "5301", to: "5642", as: "beginning" },
    ]);
  });

  it("a beginning may stand behind the place it is printed at", () => {
    expect(read('The date code is stamped on a sticker on the bottom and begins with "05188" or "5188."').dateCodes).toEqual([
      { pattern: "05188*" },
      { pattern: "5188*" },
    ]);
  });
});

describe("UPCs", () => {
  it("are kept as digits, also where they are printed with hyphens", () => {
    expect(read("The UPC number is 0-12345-67890-5.").upcs).toEqual(["012345678905"]);
    expect(read("The UPC is 0 12345 67890 5 and the model number is LF-1.")).toMatchObject({
      upcs: ["012345678905"],
      models: { include: ["LF-1"] },
    });
    expect(read("UPC codes 012345678905 and 012345678912 are on the packaging.").upcs).toEqual(["012345678905", "012345678912"]);
    expect(read("UPC codes 012345678905 and 012345678912 are on the packaging.").models.include).toEqual([]);
  });
});
