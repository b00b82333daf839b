import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readNoticeList } from "@/lib/notices/read-list";

const fixture = (name: string) => readFileSync(new URL(`../../fixtures/notices/${name}`, import.meta.url));
const read = (input: Uint8Array | string) => {
  const list = readNoticeList(input);
  if (!list.ok) throw new Error(list.problem);
  return list;
};

describe("the web service's JSON", () => {
  const list = read(fixture("invented-service.json"));

  it("becomes notices in list order, electrical or not", () => {
    expect(list.format).toBe("us-web-service");
    expect(list.notices.map((notice) => notice.number)).toEqual(["31-101", "id:40002"]);
  });

  it("keeps names, dates as printed and UPCs", () => {
    expect(list.notices[0]).toMatchObject({
      key: "31-101",
      recordId: "40001",
      date: "2031-02-13",
      productNames: ["Larkfield Ceramic Heaters"],
      makers: ["Quillmere Housewares Co. Ltd., of Tennant"],
      upcs: ["012345678905"],
      units: "About 12,000",
    });
  });

  it("sets a record that is no notice aside with its place and the reason", () => {
    expect(list.setAside).toHaveLength(1);
    expect(list.setAside[0]).toMatchObject({ line: 3, content: '{"note":"a record that is no notice"}' });
    expect(list.setAside[0]?.reason).toContain("Record 3");
  });

  it("is read as a single record and wrapped in an object as well", () => {
    const one = { RecallID: 7, Title: "Ebbing Recalls Lamps", RecallNumber: 31007 };
    expect(read(JSON.stringify(one)).notices[0]?.number).toBe("31007");
    expect(read(JSON.stringify({ count: 1, results: [one] })).notices).toHaveLength(1);
  });

  it("gives a number that occurs twice a key of its own each time", () => {
    const twice = [1, 2].map((id) => ({ RecallID: id, RecallNumber: "31-300", Title: "Ebbing Recalls Lamps" }));
    expect(read(JSON.stringify(twice)).notices.map((notice) => notice.key)).toEqual(["31-300", "31-300#2"]);
  });

  it("takes numbers, nulls and wrong shapes in fields for what they can be", () => {
    const odd = [
      {
        RecallID: "9",
        Title: "Ebbing Recalls Lamps",
        Description: null,
        Products: "none",
        Manufacturers: [null, { Name: 5 }],
        ProductUPCs: [12345678905],
      },
    ];
    expect(read(JSON.stringify(odd)).notices[0]).toMatchObject({ description: "", makers: ["5"], upcs: ["12345678905"] });
  });
});

describe("the web site's export", () => {
  const list = read(fixture("invented-export.csv"));

  it("is recognised behind a byte order mark and carriage returns, unknown columns ignored", () => {
    expect(list.format).toBe("us-website-export");
    expect(list.notices.map((notice) => [notice.number, notice.date])).toEqual([
      ["31-201", "2031-04-03"],
      ["31-202", "2031-05-04"],
    ]);
  });

  it("has its character references read, once", () => {
    expect(list.notices[0]?.title).toBe("Tavish Recalls Juicers & Blenders Due to Burn Hazard");
    expect(list.notices[0]?.description).not.toContain("&nbsp;");
  });
});

describe("the plain list", () => {
  const list = read(fixture("invented-plain-list.csv"));

  it("is read with semicolons, quoted line ends and blank lines", () => {
    expect(list.format).toBe("plain-list");
    expect(list.source).toBe("Borough list");
    expect(list.notices.map((notice) => notice.number)).toEqual(["B-7", "B-8"]);
    expect(list.notices[1]).toMatchObject({ statedBrands: ["Corvane", "Sola"], description: "Two lines;\none record" });
  });

  it("sets a row without number and title aside with its line", () => {
    expect(list.setAside.map(({ line }) => line)).toEqual([7]);
  });

  it("sets a row aside that has more cells than the header", () => {
    const extra = read("number,title,brand\n1,a,b\n2,a,b,c,d\n3,a,b\n");
    expect(extra.notices).toHaveLength(2);
    expect(extra.setAside[0]?.reason).toContain("line 3");
  });

  it("sets the record aside in which a quotation mark is never closed, and keeps those before", () => {
    const cut = read('number,title,brand\n1,a,b\n2,"a,b\n');
    expect(cut.notices.map((notice) => notice.number)).toEqual(["1"]);
    expect(cut.setAside).toHaveLength(1);
  });
});

describe("encodings", () => {
  const text = "number,title,brand\n1,Café kettle “Sola”,Fenwick\n";
  const utf16 = (order: "le" | "be", mark: boolean) => {
    const units = [...(mark ? [0xfeff] : []), ...[...text].map((character) => character.charCodeAt(0))];
    return Uint8Array.from(units.flatMap((unit) => (order === "le" ? [unit & 255, unit >> 8] : [unit >> 8, unit & 255])));
  };
  const cases: [string, Uint8Array][] = [
    ["UTF-8", new TextEncoder().encode(text)],
    ["UTF-8 with a mark", new TextEncoder().encode(`\ufeff${text}`)],
    ["UTF-16 little-endian with a mark", utf16("le", true)],
    ["UTF-16 big-endian with a mark", utf16("be", true)],
    ["UTF-16 without a mark", utf16("le", false)],
    ["Windows-1252", Uint8Array.from([...text].map((character) => ({ "“": 0x93, "”": 0x94 })[character] ?? character.charCodeAt(0)))],
  ];
  it.each(cases)("%s gives the same text", (_name, bytes) => {
    expect(read(bytes).notices[0]?.title).toBe("Café kettle “Sola”");
  });
});

describe("what is no list is refused with one sentence that names it", () => {
  const cases: [string, string, RegExp][] = [
    ["empty input", "", /empty/],
    ["blanks only", " \r\n ", /empty/],
    ["an empty array", "[]", /no record/],
    ["JSON cut off in the middle", '[{"RecallID": 1, "Title": "Ebb', /not complete JSON/],
    ["a web page saved by mistake", "\n<!DOCTYPE html><html><body>Recalls</body></html>", /web page/],
    ["an XML document", '<?xml version="1.0"?><recalls/>', /XML/],
    ["the service's error document", '[{"RecallID": 0, "Title": "Error retrieving Recalls: timeout"}]', /error message/],
    ["other JSON", '{"weather": "fair"}', /no recall list/],
    ["other CSV", "tag,site,brand\n1,2,3\n", /no recall list/],
    ["a header alone", "number,title,brand\n", /no record/],
  ];
  it.each(cases)("%s", (_name, input, problem) => {
    const list = readNoticeList(input);
    expect(list).toMatchObject({ ok: false });
    if (!list.ok) {
      expect(list.problem).toMatch(problem);
      expect(list.problem.trim().split("\n")).toHaveLength(1);
    }
  });

  it("an error record among notices is set aside, not taken for one", () => {
    const list = read(
      JSON.stringify([
        { RecallID: 0, Title: "Error retrieving Recalls: x" },
        { RecallID: 3, Title: "Ebbing Recalls Lamps" },
      ]),
    );
    expect(list.notices).toHaveLength(1);
    expect(list.setAside[0]?.reason).toContain("error message");
  });
});
