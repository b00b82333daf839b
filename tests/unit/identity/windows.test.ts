import { describe, expect, it } from "vitest";
import { compareWithWindow, type PrintedWindow } from "@/lib/identity/code-window";
import { dateOrder, dateOrdinal } from "@/lib/identity/date-code";
import { compareMade, madeSpan } from "@/lib/identity/made";

const serial = (code: string, window: PrintedWindow) => compareWithWindow(code, window, "serial").place;
const dateCode = (code: string, window: PrintedWindow) => compareWithWindow(code, window, "dateCode").place;

describe("a serial number and a window", () => {
  it.each([
    ["17042700311", { from: "17042700001", to: "17042700684" }, "inside"],
    ["17051100311", { from: "17042700001", to: "17042700684" }, "outside"],
    ["1704-2700-311", { from: "17042700001", to: "17042700684" }, "inside"],
    ["I704270031I", { from: "17042700001", to: "17042700684" }, "inside"],
    ["170427003", { from: "17042700001", to: "17042700684" }, "unknown"],
    ["CK0150", { from: "CK0100", to: "CK0200" }, "inside"],
    ["CM0150", { from: "CK0100", to: "CK0200" }, "outside"],
    ["C80150", { from: "CB0100", to: "CB0200" }, "inside"],
    ["CK01X0", { from: "CK0100", to: "CK0200" }, "unknown"],
    ["K406", { from: "KOO3", to: "K406" }, "inside"],
    ["K407", { from: "KOO3", to: "K406" }, "outside"],
    ["K002", { from: "KOO3", to: "K406" }, "outside"],
    ["2?S9981", { pattern: "27S*" }, "unknown"],
    ["4000", { from: "1", to: "5000" }, "inside"],
    ["6000", { from: "1", to: "5000" }, "outside"],
    ["K4000", { from: "1", to: "5000" }, "unknown"],
    ["1411004417", { from: "1410", to: "1503", as: "beginning" }, "inside"],
    ["1411004417", { from: "1410", to: "1503" }, "inside"],
    ["1509004417", { from: "1410", to: "1503" }, "outside"],
    ["2781004417", { pattern: "2781*" }, "inside"],
    ["Z781004417", { pattern: "2781*" }, "inside"],
    ["2694004417", { pattern: "2781*" }, "outside"],
    ["QN100M2301270417", { pattern: "QN100M230127####" }, "inside"],
    ["QN100M2302270417", { pattern: "QN100M230127####" }, "outside"],
    ["QN100M23012704", { pattern: "QN100M230127####" }, "unknown"],
    ["", { pattern: "27*" }, "unknown"],
    ["QA50112345", { from: "QA325*****", to: "QA724*****" }, "inside"],
    ["QA80112345", { from: "QA325*****", to: "QA724*****" }, "outside"],
    ["61234", { from: "", to: "67310" }, "inside"],
    ["71234", { from: "", to: "67310" }, "outside"],
    ["912", { from: "", to: "67310" }, "inside"],
    ["71234", { from: "67310", to: "" }, "inside"],
    ["QK540000", { from: "", to: "QK550000" }, "inside"],
    ["QK560000", { from: "", to: "QK550000" }, "outside"],
    ["QM540000", { from: "", to: "QK550000" }, "unknown"],
    ["QC5000", { from: "QC3753", to: "QC77735" }, "inside"],
    ["QC90000", { from: "QC3753", to: "QC77735" }, "outside"],
    ["HA15000", { from: "QC3753", to: "QC77735" }, "outside"],
    ["QS8000", { from: "QS73202", to: "QS8442" }, "unknown"],
    ["62034", { from: "*000", to: "*074" }, "inside"],
    ["620Z4", { from: "*000", to: "*074" }, "inside"],
    ["62134", { from: "*000", to: "*074" }, "outside"],
    ["34", { from: "*000", to: "*074" }, "unknown"],
    ["KD034", { from: "??000", to: "??074" }, "inside"],
    ["KD134", { from: "??000", to: "??074" }, "outside"],
    ["K5034Q", { from: "@?000*", to: "@?074*" }, "inside"],
    ["45034Q", { from: "@?000*", to: "@?074*" }, "unknown"],
  ] as const)("%s in %j: %s", (code, window, place) => {
    expect(serial(code, window)).toBe(place);
  });

  it("reads X at the end of both bounds as any characters", () => {
    const window = { from: "607KMXXXXXXX", to: "807KMXXXXXXX" };
    expect(serial("704KMZZ1A220", window)).toBe("inside");
    expect(serial("904KMZZ1A220", window)).toBe("outside");
    expect(serial("704MMZZ1A220", window)).toBe("outside");
  });

  it("follows years that start again, as the notice states or as its bounds can only mean", () => {
    const around = { from: "506KMXXXXXXX", to: "408KMXXXXXXX" };
    const stated = { ...around, as: "YMM-from-5" };
    for (const window of [around, stated]) {
      expect(serial("811KMAB0C117", window)).toBe("inside");
      expect(serial("210KMAB0C117", window)).toBe("inside");
      expect(serial("409KMAB0C117", window)).toBe("outside");
    }
    expect(serial("505KMAB0C117", stated)).toBe("outside");
  });

  it("does not decide on bounds that run backwards", () => {
    expect(serial("KA50", { from: "KB10", to: "KA90" })).toBe("unknown");
  });
});

describe("a date code and a window", () => {
  it.each([
    ["2416", { pattern: "2416" }, "inside"],
    ["2516", { pattern: "2416" }, "outside"],
    ["2341", { pattern: "23*" }, "inside"],
    ["2207", { pattern: "23*" }, "outside"],
    ["9801", { from: "9722", to: "9848", as: "YYWW" }, "inside"],
    ["9849", { from: "9722", to: "9848", as: "YYWW" }, "outside"],
    ["0005", { from: "9922", to: "0110", as: "YYWW" }, "inside"],
    ["0217", { from: "5016", to: "1017", as: "WWYY" }, "inside"],
    ["1117", { from: "5016", to: "1017", as: "WWYY" }, "outside"],
    ["201705", { from: "201612", to: "201907", as: "YYYYMM" }, "inside"],
    ["201713", { from: "201612", to: "201907", as: "YYYYMM" }, "unknown"],
    ["K244JN", { from: "K196JN", to: "K365JN" }, "inside"],
    ["L301JN", { from: "K196JN", to: "K365JN" }, "outside"],
    ["L301JN", { from: "L001JN", to: "L273JN" }, "outside"],
  ] as const)("%s in %j: %s", (code, window, place) => {
    expect(dateCode(code, window)).toBe(place);
  });

  it("never guesses an order that the notice does not state", () => {
    // 2416 to 3316 may be weeks 24 to 33 of 2016, or the years 2024 to 2033: 2516 lies within both, 2815 only within one.
    const window = { from: "2416", to: "3316" };
    expect(dateCode("2516", window)).toBe("inside");
    expect(dateCode("2815", window)).toBe("unknown");
    expect(dateCode("9722", window)).toBe("outside");
  });

  it("reads only orders that it knows", () => {
    expect(dateOrder("YYWW")).not.toBeNull();
    expect(dateOrder("mm/dd/yy")).not.toBeNull();
    expect(dateOrder("beginning")).toBeNull();
    expect(dateOrder("WWDD")).toBeNull();
    const order = dateOrder("MMDDYY");
    expect(order && dateOrdinal("123199", order)).toBeLessThan((order && dateOrdinal("010100", order)) ?? 0);
  });
});

describe("a partly known date of manufacture", () => {
  it("stands for its whole span", () => {
    expect(madeSpan("2016-02")).toEqual({ from: "2016-02-01", to: "2016-02-29" });
    expect(madeSpan("1900-02")).toEqual({ from: "1900-02-01", to: "1900-02-28" });
    expect(madeSpan("2019")).toEqual({ from: "2019-01-01", to: "2019-12-31" });
    for (const none of ["", "2019-13", "2019-02-30", "May 2019", "19"]) expect(madeSpan(none)).toBeNull();
  });

  it.each([
    ["2018-05", { from: "2016-12-01", to: "2019-07-31" }, "inside"],
    ["2019", { from: "2016-12-01", to: "2019-07-31" }, "overlap"],
    ["2020-01", { from: "2016-12-01", to: "2019-07-31" }, "outside"],
    ["2019-07-31", { from: "2016-12-01", to: "2019-07-31" }, "inside"],
    ["2015", { from: null, to: "2015-12-31" }, "inside"],
    ["2016", { from: null, to: "2015-12-31" }, "outside"],
    ["soon", { from: null, to: null }, null],
  ] as const)("%s against %j: %s", (made, window, place) => {
    expect(compareMade(made, window)).toBe(place);
  });
});
