import { unzipSync } from "fflate";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { packFileName } from "@/lib/documents/site-pack";
import { both, byTexts, PackNames, paperOnly, tableOnly } from "@/lib/documents/site-pack-section";
import { sectionCsv, sitePackTables } from "@/lib/documents/site-pack-tables";
import { packOf, sectionOf } from "../../support/pack-builders";

describe("the tables of a pack", () => {
  it("leave out what only the paper has, and keep what only they have", () => {
    const columns = [both("tag", "Tag", 10), paperOnly("Where", 20), tableOnly("unit")];
    expect(sectionCsv(sectionOf({ columns, rows: [["PW-1", "0101, K1", "0101"]] }))).toBe("tag,unit\r\nPW-1,0101\r\n");
  });

  it.each([
    ['=HYPERLINK("http://x")', `"'=HYPERLINK(""http://x"")"`],
    ["+1", `"'+1"`],
    ["-1+2", `"'-1+2"`],
    ["@SUM(A1)", `"'@SUM(A1)"`],
    ["two\r\nlines, and a comma", `"two\r\nlines, and a comma"`],
    ["Größe Ω ≤ 5", "Größe Ω ≤ 5"],
  ])("write %s so that no spreadsheet runs it and every reader reads it (OWASP CSV Injection, RFC 4180)", (text, written) => {
    const section = sectionOf({ columns: [both("brand", "Maker", 10)], rows: [[text], [null]] });
    expect(sectionCsv(section)).toBe(`brand\r\n${written}\r\n\r\n`);
    expect(Papa.parse<string[]>(sectionCsv(section)).data[1]?.[0]?.replace(/^'/, "")).toBe(text);
  });

  it("are one archive with a table of what it is, the same bytes each time and in any time zone", () => {
    const pack = packOf([sectionOf({ key: "open_findings", rows: [["DANGER"]] }), sectionOf({ key: "people" })]);
    const first = Buffer.from(sitePackTables(pack));
    const zone = process.env["TZ"];
    process.env["TZ"] = "Pacific/Auckland";
    const elsewhere = Buffer.from(sitePackTables(pack));
    if (zone === undefined) delete process.env["TZ"];
    else process.env["TZ"] = zone;
    expect(elsewhere.equals(first)).toBe(true);
    const files = unzipSync(first);
    expect(Object.keys(files)).toEqual(["00_about.csv", "01_open_findings.csv", "02_people.csv"]);
    const about = Buffer.from(files["00_about.csv"] ?? []).toString("utf8");
    expect(about).toContain("site,Alder House\r\nday,2026-03-06\r\n");
    expect(about).toContain("open_findings,1,");
  });
});

describe("names in a pack", () => {
  const names = new PackNames({
    site: { id: "s", name: "Alder House", timeZone: "America/New_York" },
    names: {
      units: [{ id: "u", name: "0101" }],
      outlets: [{ id: "o", name: "K1", circuitId: "c" }],
      circuits: [{ id: "c", name: "A-1", unitId: "u", deviceAmps: 15, volts: 120 }],
      members: [
        {
          id: "m",
          userId: "p",
          role: "inspector",
          allSites: true,
          createdAt: new Date(0),
          endedAt: null,
          sites: [],
          user: { name: "Robin" },
        },
      ],
    },
  });

  it("tell days and minutes by the site's clock, also where it is put back", () => {
    expect([names.day(new Date("2026-03-07T04:59:59Z")), names.day(new Date("2026-03-07T05:00:00Z"))]).toEqual([
      "2026-03-06",
      "2026-03-07",
    ]);
    expect(names.time(new Date("2026-11-01T05:30:00Z"))).toBe("2026-11-01 01:30");
    expect(names.time(new Date("2026-11-01T06:30:00Z"))).toBe("2026-11-01 01:30");
    expect(names.day(null)).toBeNull();
  });

  it("say a place as far as it is known, and a receptacle only of an outlet", () => {
    expect(names.where({ unitId: "u", outletId: "o", receptacle: "2" })).toBe("0101, K1, 2");
    expect(names.where({ unitId: "u", outletId: null, receptacle: "2" })).toBe("0101");
    expect(names.where({ unitId: null, outletId: "gone", receptacle: null })).toBeNull();
  });

  it("name people by their role alone", () => {
    expect([names.roleOf("p"), names.roleOf("x"), names.roleOf(null)]).toEqual(["inspector", "somebody who has left", "command line"]);
  });

  it.each([
    ["Große Übersee-Straße 12", "site-pack-grosse-ubersee-strasse-12-2026-03-06.pdf"],
    ["../../etc/passwd", "site-pack-etc-passwd-2026-03-06.pdf"],
    ["寮", "site-pack-site-2026-03-06.pdf"],
  ])("make of %s a file name that every system takes", (site, name) => {
    expect(packFileName(site, "2026-03-06", "pdf")).toBe(name);
  });

  it("are ordered by code units, as no database's locale does", () => {
    const rows = [["b"], ["Ä"], ["a"], ["B"]];
    expect(rows.sort(byTexts((row) => row[0] ?? "")).flat()).toEqual(["B", "a", "b", "Ä"]);
  });
});
