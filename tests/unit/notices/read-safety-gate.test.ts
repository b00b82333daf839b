import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { recordsSetAside } from "@/lib/notices/notice-list";
import { readNoticeList } from "@/lib/notices/read-list";
import { understand } from "@/lib/notices/understand";

const xml = readFileSync(new URL("../../fixtures/notices/invented-safety-gate.xml", import.meta.url), "utf8");
const read = (input: Uint8Array | string) => {
  const list = readNoticeList(input);
  if (!list.ok) throw new Error(list.problem);
  return list;
};
const problemOf = (input: string) => {
  const list = readNoticeList(input);
  return list.ok ? "read" : list.problem;
};

describe("the Safety Gate's weekly report", () => {
  const list = read(xml);

  it("becomes notices in its order, an issue of a longer list", () => {
    expect(list).toMatchObject({ format: "eu-safety-gate", source: "EU Safety Gate", isExtract: true });
    expect(list.notices.map(({ number }) => number)).toEqual(["SR/00101/31", "SR/00102/31", "SR/00105/31"]);
  });

  it("accounts for every alert: vehicles by kind, what is no notice with its reason", () => {
    expect(list.notices.length + recordsSetAside(list.setAside)).toBe(6);
    expect(list.setAside.map(({ line, reason }) => [line, reason.split(" ").slice(0, 2).join(" ")])).toEqual([
      [4, "Alert 4"],
      [5, "Alert 5"],
      [3, "Motor vehicles:"],
    ]);
  });

  it("takes the report's day as day/month/year, and every field in its place", () => {
    expect(list.notices[0]).toMatchObject({
      date: "2031-03-07",
      title: "Fan heater, Ember & Glow",
      statedBrands: ["Larkfield"],
      statedModels: "LF-2200, LF-2400",
      upcs: ["4006381333931", "96385074"],
      description: "White fan heater\nwith two settings.\nBatch number: 202506001.",
      hazard: "Serious risk: Fire: The thermal cut-out can fail.",
      remedy: "Recall of the product from end users",
      url: "https://regulator.example/alert/101",
    });
  });

  it("gives coverage of brand, models, batch and barcodes", () => {
    const [first] = list.notices;
    expect(first && understand(first)).toMatchObject({
      brands: ["Larkfield"],
      models: { stated: "listed", include: ["LF-2200", "LF-2400"] },
      dateCodes: [{ pattern: "202506001" }],
      upcs: ["4006381333931", "96385074"],
    });
  });

  it("takes a field that says that nothing is known as empty", () => {
    expect(list.notices[1]).toMatchObject({ statedBrands: [], statedModels: null, upcs: [] });
  });

  it("tells barcodes from batches where one field holds both", () => {
    expect(list.notices[2]).toMatchObject({
      upcs: ["4006381333931"],
      description: "Batch number: LOT 7.",
      statedBrands: ["Corvane", "Sola"],
    });
  });

  it("is read with a prefix, on one line, and without a declaration", () => {
    const bare = xml.replace(/^<\?xml.*\n/, "").replace(/\n\s*/g, "");
    expect(read(bare).notices.map(({ number }) => number)).toEqual(list.notices.map(({ number }) => number));
    expect(
      read(bare.replaceAll("<notifications>", "<sg:notifications>").replaceAll("</notifications>", "</sg:notifications>")).notices,
    ).toHaveLength(3);
  });

  it("is refused with its place when it was cut off, at any length", () => {
    for (let length = 100; length < xml.trimEnd().length; length += 97)
      expect(problemOf(xml.slice(0, length))).toMatch(/damaged or was cut off \(\d+:\d+: /);
  });

  it("is refused when it is the list of reports, whose addresses it names, the newest first, or holds no alert", () => {
    const report = (week: number, day: string) =>
      `<weeklyReport><reference>Report-2031-${week}</reference><publicationDate>${day}</publicationDate><URL>https://regulator.example/${week}?a=1&amp;b=2,</URL></weeklyReport>`;
    const index = readNoticeList(
      `<?xml version="1.0"?><Safety-Gate>${report(9, "28/02/2031")}${report(10, "07/03/2031")}${report(8, "21/02/2031")}</Safety-Gate>`,
    );
    expect(index).toMatchObject({ ok: false, problem: expect.stringMatching(/list of the EU Safety Gate's weekly reports/) });
    expect(!index.ok && index.reports).toEqual([10, 9, 8].map((week) => `https://regulator.example/${week}?a=1&b=2`));
    expect(problemOf("<Safety-Gate><report_date>01/01/2031</report_date></Safety-Gate>")).toMatch(/holds no alert/);
  });

  it("declares no entities of its own and is not nested without end", () => {
    const bomb = `<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bb"><!ENTITY c "&b;&b;">]><Safety-Gate><n><caseNumber>&c;</caseNumber></n></Safety-Gate>`;
    expect(problemOf(bomb)).toMatch(/undefined entity/);
    expect(problemOf(`<Safety-Gate>${"<a>".repeat(100_000)}`)).toMatch(/nested too deep/);
  });

  it("loses no alert, whatever its fields hold", () => {
    const value = fc.string({ unit: "grapheme", maxLength: 40 }).map((text) => text.replace(/[<&\p{Cc}\uFFFE\uFFFF]|\]\]>/gu, " "));
    const field = fc.constantFrom("product", "brand", "type_numberOfModel", "batchNumber_barcode", "danger", "other");
    fc.assert(
      fc.property(fc.array(fc.array(fc.tuple(field, value), { maxLength: 6 }), { minLength: 1, maxLength: 8 }), (alerts) => {
        const body = alerts.map(
          (fields, at) => `<n><caseNumber>N${at}</caseNumber>${fields.map(([name, text]) => `<${name}>${text}</${name}>`).join("")}</n>`,
        );
        const read = readNoticeList(`<Safety-Gate>${body.join("")}</Safety-Gate>`);
        return read.ok && read.notices.length === alerts.length;
      }),
    );
  });
});

describe("the Safety Gate's table", () => {
  const table =
    "Alert number;Date;Product;Name;Brand;Type / number of model;Batch number / Barcode;Risk type;Risk;Measures;Country of origin\n" +
    "SR/00201/31;14/03/2031;Hair dryer;Gale;Tavish;HD-1;4006381333931;Electric shock;Live parts can be touched.;Recall;Unknown\n";

  it("is recognised by its headings, with semicolons too", () => {
    expect(read(table).notices[0]).toMatchObject({
      key: "SR/00201/31",
      date: "2031-03-14",
      title: "Hair dryer, Gale",
      statedBrands: ["Tavish"],
      statedModels: "HD-1",
      upcs: ["4006381333931"],
      hazard: "Electric shock: Live parts can be touched.",
    });
  });

  it("is asked for as CSV when a workbook comes", () => {
    const zip = Uint8Array.from([0x50, 0x4b, 3, 4, 20, 0]);
    const list = readNoticeList(zip);
    expect(list.ok ? "read" : list.problem).toMatch(/workbook; save its sheet as CSV/);
  });
});
