import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { recordsSetAside } from "@/lib/notices/notice-list";
import { readNoticeList } from "@/lib/notices/read-list";
import { understand } from "@/lib/notices/understand";

const fixture = (name: string) => readFileSync(new URL(`../../fixtures/notices/${name}`, import.meta.url));
const read = (input: Uint8Array | string) => {
  const list = readNoticeList(input);
  if (!list.ok) throw new Error(list.problem);
  return list;
};

describe("Canada's open data", () => {
  const list = read(fixture("invented-canada-open.json"));

  it("keeps what may be plugged in, medical devices and archived recalls too", () => {
    expect(list.format).toBe("canada-open-data");
    expect(list.isExtract).toBeUndefined();
    expect(list.notices.map(({ number }) => number)).toEqual(["id:90001", "id:90005"]);
  });

  it("accounts for every record: food and vehicles by kind with all their numbers, and what is no notice with its reason", () => {
    expect(list.notices.length + recordsSetAside(list.setAside)).toBe(6);
    expect(list.setAside.map(({ line, records, content }) => [line, records, content])).toEqual([
      [6, undefined, '{"note":"a record that is no notice"}'],
      [2, 2, "id:90002 id:90004"],
      [3, 1, "id:90003"],
    ]);
    expect(list.setAside[1]?.reason).toBe("Food: 2 records are set aside, because nothing of this kind is plugged in.");
  });

  it("has its mark-up read as text, and the day of the last change, since it has no other", () => {
    expect(list.notices[0]).toMatchObject({
      date: null,
      lastPublished: "2031-08-01",
      description: "This recall involves Larkfield space heaters, model numbers CS-100 and CS-150.\nUPC 012345678905",
      hazard: "Fire hazard",
      remedy: "Stop using it & unplug it.",
    });
  });

  it("gives coverage: models, barcode, product and maker", () => {
    const [first] = list.notices;
    const coverage = first && understand(first);
    expect(coverage?.models.include).toEqual(["CS-100", "CS-150"]);
    expect(coverage?.upcs).toEqual(["012345678905"]);
    expect(coverage?.brands).toEqual(["Larkfield"]);
  });

  it("is the same list as CSV, whatever the case of its headings", () => {
    const csv =
      'NID,Title,URL,Organization,Product,Issue,What you should do,Category,Recall class,Last updated,Archived\n90001,"Kettle, recalled",https://regulator.example/1,Consumer product safety,Kettle KT-5,Burn hazard,Stop using it,Appliances,,2031-08-01,0\n90002,Oats,,CFIA,Oats,,,,,2031-08-01,0\n';
    const table = read(csv);
    expect(table.format).toBe("canada-open-data");
    expect(table.notices[0]).toMatchObject({
      key: "id:90001",
      title: "Kettle, recalled",
      remedy: "Stop using it",
      productNames: ["Kettle KT-5"],
    });
    expect(recordsSetAside(table.setAside)).toBe(1);
    const shouted = read(csv.replace(/^.*\n/, (header) => header.toUpperCase()));
    expect(shouted.notices).toEqual(table.notices);
  });
});

describe("Canada's older recall service", () => {
  const recall = (recallId: string, category: string, title = `Recall ${recallId}`) => ({
    recallId,
    title,
    category: [category],
    // 2031-05-03, midnight in Ottawa
    date_published: 1935547200,
    url: `/api/${recallId}/en`,
  });

  it("is read from the arrays by category, a recall of several arrays once", () => {
    const cps = recall("7001RA", "4", "Quillmere recalls kettles");
    const answer = {
      results: { ALL: [cps, recall("7002RA", "1")], FOOD: [recall("7002RA", "1")], CPS: [cps], VEHICLES: [recall("7003TC", "2")] },
    };
    const list = read(JSON.stringify(answer));
    expect(list).toMatchObject({ format: "canada-recall-api", isExtract: true });
    expect(list.notices.map(({ number, date }) => [number, date])).toEqual([["id:7001RA", "2031-05-03"]]);
    expect(list.setAside.map(({ reason }) => reason.split(":")[0])).toEqual(["Food", "Vehicles"]);
  });

  it("is read as one recall with panels, what they say sorted into hazard, remedy and the rest", () => {
    const panels = [
      {
        panelName: "product",
        title: "Affected products",
        text: "<table><tr><th>Model</th><th>Serial</th></tr><tr><td>QK-17</td><td>100 to 199</td></tr></table>",
      },
      { panelName: "issue", title: "Issue", text: "<p>The handle can come off.</p>" },
      { panelName: "what_to_do", title: "What you should do", text: "<p>Stop using it.</p>" },
      null,
    ];
    const [notice] = read(JSON.stringify({ ...recall("7001RA", "4"), panels })).notices;
    expect(notice).toMatchObject({
      description: "Model\tSerial\nQK-17\t100 to 199",
      hazard: "The handle can come off.",
      remedy: "Stop using it.",
    });
  });

  it("sets a record aside that is no notice", () => {
    const list = read(JSON.stringify([{ recallId: null, title: "" }, recall("7001RA", "4")]));
    expect([list.notices.length, list.setAside.length]).toEqual([1, 1]);
  });
});
