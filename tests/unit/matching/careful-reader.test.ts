import { describe, expect, it } from "vitest";
import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import { crossCheck } from "@/lib/matching/cross-check";
import { buildRecallIndex } from "@/lib/matching/recall-index";
import type { Coverage } from "@/lib/notices/coverage";
import { makeAppliance, makeCoverage, makeNotice } from "@/tests/support/matching-builders";

// What a careful reader says of one invented notice and one appliance: the grade, and after a blank the fact that is asked for.
type Case = readonly [coverage: Partial<Coverage>, appliance: Partial<ApplianceFacts>, says: string];

const listed = (include: string[], exclude: string[] = []): Partial<Coverage> => ({ models: { stated: "listed", include, exclude } });
const none: Partial<Coverage> = { models: { stated: "none", include: [], exclude: [] } };
const allBut = (exclude: string[]): Partial<Coverage> => ({ models: { stated: "all", include: [], exclude } });

function saysOf(coverage: Partial<Coverage>, appliance: Partial<ApplianceFacts>): string {
  const index = buildRecallIndex([makeNotice(makeCoverage(coverage))]);
  const found = crossCheck(index, makeAppliance(appliance), { all: true })[0];
  return found ? `${found.grade} ${found.ask?.field ?? ""}`.trim() : "not_covered";
}

function check(cases: readonly Case[]): void {
  for (const [coverage, appliance, says] of cases) expect([appliance, saysOf(coverage, appliance)]).toEqual([appliance, says]);
}

describe("a careful reader, of serial numbers", () => {
  const range: Partial<Coverage> = { serials: [{ from: "1710001", to: "1712500" }] };
  const beginning: Partial<Coverage> = { serials: [{ pattern: "27S*" }] };

  it("places them in every reading of confused characters", () => {
    check([
      [range, { serial: "1711000" }, "covered"],
      [range, { serial: "17I100O" }, "covered"],
      [range, { serial: "I713OOO" }, "not_covered"],
      [range, { serial: "171250S" }, "not_covered"],
      [range, { serial: "171249S" }, "covered"],
      [beginning, { serial: "2759981" }, "covered"],
      [beginning, { serial: "28S9981" }, "not_covered"],
    ]);
  });

  it("asks where one is missing, cut short, of another form or only partly read", () => {
    check([
      [range, { serial: null }, "check_label serial"],
      [range, { serial: "17110" }, "check_label serial"],
      [range, { serial: "AB1711000" }, "check_label serial"],
      [beginning, { serial: "2?S9981" }, "check_label serial"],
      [beginning, { serial: "-" }, "check_label serial"],
    ]);
  });

  it("asks for what is still open, not for what is already outside", () => {
    const either: Partial<Coverage> = { serials: [{ pattern: "27*" }], made: [{ from: "2016-12-01", to: "2019-07-31" }] };
    check([
      [either, { serial: "3099" }, "not_covered"],
      [either, { serial: "3099", made: "2019" }, "check_label made"],
      [either, { serial: "3099", made: "2018" }, "covered"],
      [either, {}, "check_label serial"],
    ]);
  });

  it("holds a window for the models and makers that it is tied to", () => {
    const tied: Partial<Coverage> = {
      ...listed(["VH-1200", "VH-1300", "VH-14*"]),
      serials: [
        { pattern: "27*", for: ["VH-1300"] },
        { pattern: "31*", for: ["VH-14*"] },
      ],
    };
    const byMaker: Partial<Coverage> = { brands: ["Velnost", "Orwick"], serials: [{ pattern: "27*", for: ["brand:Orwick"] }] };
    check([
      [tied, { model: "VH-1200" }, "covered"],
      [tied, { model: "VH-1300" }, "check_label serial"],
      [tied, { model: "VH-I3OO", serial: "2755" }, "covered"],
      [tied, { model: "VH-1300", serial: "3155" }, "not_covered"],
      [tied, { model: "VH-1401", serial: "3155" }, "covered"],
      [tied, { model: null, serial: "9955" }, "check_label model"],
      [{ ...tied, ...listed(["VH-1300"]) }, { model: null, serial: "9955" }, "not_covered"],
      [byMaker, { brand: null, serial: "9955" }, "check_label brand"],
      [byMaker, { brand: "Orwick", serial: "9955" }, "not_covered"],
    ]);
  });
});

describe("a careful reader, of dates", () => {
  const coded = (from: string, to: string, as?: string): Partial<Coverage> => ({ dateCodes: [as ? { from, to, as } : { from, to }] });

  it("takes a partly known one for its whole span", () => {
    const made: Partial<Coverage> = { made: [{ from: "2018-03-01", to: "2019-06-30" }] };
    check([
      [made, { made: "2018" }, "check_label made"],
      [made, { made: "2019-06" }, "covered"],
      [made, { made: "2019-07" }, "not_covered"],
      [made, { made: "2017" }, "not_covered"],
      [made, { made: "spring 2018" }, "check_label made"],
      [{ made: [{ from: null, to: "2015-12-31" }] }, { made: "2015" }, "covered"],
      [{ made: [{ from: null, to: "2015-12-31" }] }, { made: "2016" }, "not_covered"],
    ]);
  });

  it("reads codes in the notice's own order, and never guesses it", () => {
    check([
      [coded("1810", "1926", "YYWW"), { dateCode: "1852" }, "covered"],
      [coded("1810", "1926", "YYWW"), { dateCode: "I8S2" }, "covered"],
      [coded("1810", "1926", "YYWW"), { dateCode: "1927" }, "not_covered"],
      [coded("1018", "2619", "WWYY"), { dateCode: "5218" }, "covered"],
      [coded("1018", "2619", "WWYY"), { dateCode: "0918" }, "not_covered"],
      [coded("1810", "1926"), { dateCode: "1852" }, "check_label dateCode"],
      [coded("K196JN", "K365JN"), { dateCode: "K200JN" }, "covered"],
      [coded("K196JN", "K365JN"), { dateCode: "K195JN" }, "not_covered"],
      [coded("K196JN", "K365JN"), { labelText: "Velnost | MODEL VH-1200 | DATE CODE K200JN | 120V" }, "covered"],
    ]);
  });
});

describe("a careful reader, of models", () => {
  it("asks about suffixes that the notice does not mention, unless it spells them out", () => {
    check([
      [{}, { model: "VH-1200-BK" }, "check_label model"],
      [listed(["VHX-12004C"]), { model: "VHX-12004CW" }, "check_label model"],
      [listed(["VHX-12004C", "VHX-12004CB", "VHX-12004CG"]), { model: "VHX-12004CW" }, "not_covered"],
      [listed(["Vale", "Vale-60"]), { model: "Vale-50" }, "not_covered"],
    ]);
  });

  it("asks about one dropped, doubled or swapped character, also before a wildcard, and about no other difference", () => {
    check([
      [listed(["VHX-12004"]), { model: "VHX-1204" }, "check_label model"],
      [listed(["VHX-12004"]), { model: "VHX-112004" }, "check_label model"],
      [listed(["VHX-12004"]), { model: "VHX-21004" }, "check_label model"],
      [listed(["VHX-12034"]), { model: "VHX-12043" }, "not_covered"],
      [listed(["VHX-12##"]), { model: "HVX-1207" }, "check_label model"],
      [listed(["VHX-12##"]), { model: "VH-1207" }, "check_label model"],
      [listed(["VHX-12*"]), { model: "VVHX-1207" }, "check_label model"],
      [listed(["VHX-12*"]), { model: "VHX-1307" }, "not_covered"],
      [listed(["VHS-1204"]), { model: "VH5-1024X" }, "not_covered"],
    ]);
  });

  it("takes a stated exclusion at its word and asks about what it may mean", () => {
    check([
      [listed(["VH-12##"], ["VH-1250"]), { model: "VH-125O" }, "not_covered"],
      [listed(["VH-12*"], ["VH-1250"]), { model: "VH-1250W" }, "check_label model"],
      [allBut(["VH-1250"]), { model: "VH-1250" }, "not_covered"],
      [allBut(["VH-1250"]), { model: null }, "check_label model"],
      [allBut(["VH-1250"]), { model: "VH-1300" }, "covered"],
    ]);
  });

  it("finds codes in a plate's loose text, also printed with a gap", () => {
    check([
      [{}, { model: null, labelText: "Velnost VH-1200 120V 60Hz 1500W" }, "likely"],
      [listed(["VH-512466"]), { model: null, labelText: "rated 120V 60Hz vh - 512466 1200W" }, "likely"],
      [listed(["542-066L"]), { model: null, labelText: "rated 120V 60Hz 542-066L 1200W" }, "likely"],
      [{}, { model: null, labelText: "VH-1200-BK 120V 60Hz" }, "check_label model"],
      [{}, { model: "VH-1200/55-A" }, "covered"],
    ]);
  });
});

describe("a careful reader, of what is not known", () => {
  const gtin = "036000291452"; // the usual UPC-A example (from memory)

  it("never takes a blank for a reason to rule out", () => {
    check([
      [listed(["5132"]), { model: "5132", brand: null, category: null }, "check_label brand"],
      [{}, { model: null }, "check_label model"],
      [{}, { model: "VH-12??" }, "check_label model"],
      [none, { category: null }, "check_label product"],
      [none, { category: "appliance" }, "check_label product"],
      [none, { category: "fan" }, "not_covered"],
    ]);
  });

  it("takes a maker's same product, made or numbered within the only window, for likely covered", () => {
    const made: Partial<Coverage> = { ...none, made: [{ from: "2018-01-01", to: "2019-12-31" }] };
    check([
      [made, { made: "2018-05" }, "likely"],
      [made, { made: "2018-05", category: "heater with a fan" }, "likely"],
      [made, {}, "check_label made"],
      [made, { made: "2021" }, "not_covered"],
      [{ ...none, dateCodes: [{ from: "1810", to: "1926", as: "YYWW" }] }, { dateCode: "1820" }, "likely"],
    ]);
  });

  it("asks for the product number where the notice gives nothing else", () => {
    check([
      [{ ...none, upcs: [gtin] }, {}, "check_label upc"],
      [{ ...none, upcs: [gtin] }, { upc: gtin }, "likely"],
      [{ upcs: [gtin] }, { upc: "36000291452", model: null, brand: null }, "likely"],
      [{ upcs: [gtin] }, { upc: gtin, model: "VH-9999" }, "check_label model"],
    ]);
  });
});
