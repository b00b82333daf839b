import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const read = (description: string) => understand(inventedNotice({ description }));

describe("tables whose cell borders were lost", () => {
  it("headings glued to each other and to the first cell are parted", () => {
    const coverage = read(
      "The following are included.Model NumberSerial No. (From)Serial No. (To)TDE4411ST 617QMXXXXXXX 817QMXXXXXXX TDE4413ST 516QMXXXXXXX 418QMXXXXXXX",
    );
    expect(coverage.models.include).toEqual(["TDE4411ST", "TDE4413ST"]);
    expect(coverage.serials).toEqual([
      { from: "617QMXXXXXXX", to: "817QMXXXXXXX", for: ["TDE4411ST"] },
      { from: "516QMXXXXXXX", to: "418QMXXXXXXX", for: ["TDE4413ST"] },
    ]);
  });

  it("cells glued to each other are parted by the shapes of the others", () => {
    const coverage = read(
      "The following are included.Model NumberSerial No. (From)Serial No. (To)TDE4411ST 617QMXXXXXXX 817QMXXXXXXX TSE4611ST617QMXXXXXXX216QMXXXXXXXTSE4611BD714QMXXXXXXX714QMXXXXXXXTSE4613ST 520QMXXXXXXX 116QMXXXXXXX",
    );
    expect(coverage.models.include).toEqual(["TDE4411ST", "TSE4611ST", "TSE4611BD", "TSE4613ST"]);
    expect(coverage.serials).toHaveLength(4);
  });

  it("beginnings glued into one run are parted where their letters come again", () => {
    const coverage = read(
      "Model Numbers Begin With:QCES950HSSQCES950HBLQCES956HSSQCES956HBLVCE97US0HSVCE97US0HBVCE97US6HS The brand name is on the cooktop.",
    );
    expect(coverage.models.include).toEqual([
      "QCES950HSS*",
      "QCES950HBL*",
      "QCES956HSS*",
      "QCES956HBL*",
      "VCE97US0HS*",
      "VCE97US0HB*",
      "VCE97US6HS*",
    ]);
  });

  it("names, colours and sizes beside the numbers are no models", () => {
    const coverage = read(
      'The following are included: Brand SKU# Size Packaging Larkfield LKMAG_116_132 1/16" x 1/32" Plastic Bag Larkfield LKMAG_12_116 ½" x 1/16" Plastic Bag',
    );
    expect(coverage.models.include).toEqual(["LKMAG_116_132", "LKMAG_12_116"]);
  });

  it("UPCs, serial ranges and models of one row go to their own columns", () => {
    const coverage = read(
      'Model Number     UPC     Serial Range     Description     KER202B     67638015240     QS582375P     QS582999P     20" ELECTRIC RANGE BLACK     KER202W     67638015233     QS582596P     QS585704P     WHITE',
    );
    expect(coverage.models.include).toEqual(["KER202B", "KER202W"]);
    expect(coverage.upcs).toEqual(["67638015240", "67638015233"]);
    expect(coverage.serials).toEqual([
      { from: "QS582375P", to: "QS582999P", for: ["KER202B"] },
      { from: "QS582596P", to: "QS585704P", for: ["KER202W"] },
    ]);
  });

  it("a date of manufacture is tied to the models of its row", () => {
    const coverage = read(
      "Catalog Number Date Code QOHB-60SE April 2020 through December 2022 QOHBL-60SE October 2022 through May 15, 2025 QOHBL-100SE October 2022 through May 15, 2025",
    );
    expect(coverage.made).toEqual([
      { from: "2020-04-01", to: "2022-12-31", for: ["QOHB-60SE"] },
      { from: "2022-10-01", to: "2025-05-15", for: ["QOHBL-60SE", "QOHBL-100SE"] },
    ]);
  });

  it("a window that holds for every row is tied to none", () => {
    const coverage = read("Model Numbers Serial Numbers QEK17SX YA325***** thru YA724***** QEK17ER YA325***** thru YA724*****");
    expect(coverage.serials).toEqual([{ from: "YA325*****", to: "YA724*****" }]);
  });

  it("a code glued in a way nothing explains is kept whole, not invented from", () => {
    const coverage = read('"Model: QX4012PLUS-1500CDE" is printed on a label.');
    expect(coverage.models.include).toEqual(["QX4012PLUS-1500CDE"]);
  });
});

describe("tables of codes that run into each other", () => {
  it("three cells in one run are parted where only one reading fits", () => {
    const coverage = read(
      "Model First serial numberLast serial numberQDIM-49NT946618610041916QDM-45934418710011080QDM-47930018810011063QDM-47FC934421110011081",
    );
    expect(coverage.models.include).toEqual(["QDIM-49NT", "QDM-45", "QDM-47", "QDM-47FC"]);
    expect(coverage.serials[0]).toEqual({ from: "9466186", to: "10041916", for: ["QDIM-49NT"] });
  });

  it("the first entries of a model number are beginnings", () => {
    const coverage = read(
      "First Six Entries of Model Number Serial Number RangeQGF333WF71205887 to WF73713122QHF333WF72303525 to WF73310146Major stores",
    );
    expect(coverage.models.include).toEqual(["QGF333*", "QHF333*"]);
    expect(coverage.serials).toHaveLength(2);
  });

  it("headings that say begin and end make beginnings and ends", () => {
    const coverage = read("BrandModel numbers MUSTbegin with…AND serial numbers MUST end with…LarkfieldMQB3, MQB4, MQB5,SQ, SS, SU");
    expect(coverage.models.include).toEqual(["MQB3*", "MQB4*", "MQB5*"]);
    expect(coverage.serials.map((window) => "pattern" in window && window.pattern)).toEqual(["*SQ", "*SS", "*SU"]);
  });

  it("beginnings and a single place of a serial number stand beside their model", () => {
    const coverage = read(
      "Brand     Model No.     Description     Serial No. (starting with)     Larkfield     QWD75BR     3/4 HP Disposer     1M5, or “6” in the third position",
    );
    expect(coverage.models.include).toEqual(["QWD75BR"]);
    expect(coverage.serials.map((window) => "pattern" in window && window.pattern)).toEqual(["1M5*", "??6*"]);
  });
});
