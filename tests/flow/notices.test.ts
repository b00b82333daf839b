import { expect, it } from "vitest";
import { Refused } from "@/lib/access/refusal";
import { Trouble } from "@/lib/access/trouble";
import { loadNotices } from "@/lib/notices/notices.run";
import { makeActor, makeOrganisation } from "@/seed/builders";
import { asFile, type ListRow, plainList } from "@/seed/recall-builders";
import { eachDatabase, type FreshDatabase } from "../support/database";

const heater: ListRow = {
  source: "Office of Product Safety",
  number: "26-114",
  date: "2026-02-01",
  title: "Keldamar Recalls Convection Heaters Due to Fire Hazard",
  brand: "Keldamar",
  product: "convection heater",
  models: "HT-1500B; HT-1500C",
  description: "This recall involves Keldamar convection heaters, model numbers HT-1500B and HT-1500C.",
};
const kettle: ListRow = {
  ...heater,
  number: "26-115",
  title: "Sundrake Recalls Kettles",
  brand: "Sundrake",
  product: "kettle",
  models: "PX-20",
  description: "",
};
const crib: ListRow = {
  source: "Office of Product Safety",
  number: "26-116",
  title: "Ostervale Recalls Cribs",
  brand: "Ostervale",
  product: "crib",
};

async function start(open: () => Promise<FreshDatabase>) {
  const database = await open();
  const organisation = await makeOrganisation(database.db);
  const actor = await makeActor(database.db, organisation.id);
  let day = 1;
  const load = async (text: string, as = actor) => {
    const now = new Date(Date.UTC(2026, 2, day++));
    return (await loadNotices(database.db, as, { source: asFile(text), fileName: "list.csv", now })).run;
  };
  return { ...database, actor, organisation, load };
}

eachDatabase("loading a recall list", (open) => {
  it("keeps every record, electrical or not, and accounts for each", async () => {
    const { db, load, close } = await start(open);
    const run = await load(plainList([heater, kettle, crib]));
    expect(run).toMatchObject({ rowsRead: 3, created: 3, updated: 0, unchanged: 0, setAside: 0, gone: 0, format: "plain-list" });
    expect(await db.notice.count()).toBe(3);
    const stored = await db.importRun.findUniqueOrThrow({ where: { id: run.id } });
    expect(stored).toMatchObject({ state: "done", kind: "notices", rowsRead: 3, created: 3 });
    expect(await db.noticeListLoad.findMany()).toMatchObject([{ records: 3, fresh: 3, amended: 0, unchanged: 0, gone: 0 }]);
    await close();
  });

  it("tells the same list again as unchanged and stores nothing new", async () => {
    const { db, load, close } = await start(open);
    await load(plainList([heater, kettle]));
    const before = await db.notice.findMany({ orderBy: { id: "asc" } });
    expect(await load(plainList([heater, kettle]))).toMatchObject({ created: 0, updated: 0, unchanged: 2, gone: 0 });
    expect(await db.notice.findMany({ orderBy: { id: "asc" } })).toEqual(before);
    expect(await db.noticeWording.count()).toBe(0);
    await close();
  });

  it("tells new, amended, unchanged and gone apart, keeps the old wording, deletes nothing, and takes a notice back", async () => {
    const { db, load, close } = await start(open);
    await load(plainList([heater, kettle]));
    const amended = { ...heater, description: `${heater.description} Units marked Rev. D are not included.` };
    expect(await load(plainList([amended, crib]))).toMatchObject({ created: 1, updated: 1, unchanged: 0, gone: 1 });
    const wordings = await db.noticeWording.findMany();
    expect(wordings).toHaveLength(1);
    expect(wordings[0]?.body).toMatchObject({ description: heater.description });
    const gone = await db.notice.findFirstOrThrow({ where: { number: "26-115" } });
    expect(gone.goneAt).toEqual(new Date("2026-03-02"));
    expect(await load(plainList([amended, kettle, crib]))).toMatchObject({ created: 0, updated: 0, unchanged: 3, gone: 0 });
    expect((await db.notice.findFirstOrThrow({ where: { number: "26-115" } })).goneAt).toBeNull();
    await close();
  });

  it("leaves the notices of another publisher alone", async () => {
    const { db, load, close } = await start(open);
    await load(plainList([heater, kettle]));
    expect(await load(plainList([{ ...crib, source: "Harbour Inspectorate" }]))).toMatchObject({ created: 1, gone: 0 });
    expect(await db.notice.count({ where: { goneAt: null } })).toBe(3);
    await close();
  });

  it("sets a record aside that is no notice, with its line and reason, and then judges none as gone", async () => {
    const { db, load, close } = await start(open);
    await load(plainList([heater, kettle]));
    const run = await load(plainList([heater, { ...kettle, number: "", title: "" }]));
    expect(run).toMatchObject({ rowsRead: 2, unchanged: 1, setAside: 1, gone: 0 });
    expect(run.message).toMatch(/not judged/);
    expect(await db.setAsideRow.findMany()).toMatchObject([
      { importRunId: run.id, line: 3, reason: expect.stringMatching(/neither a number nor a title/) },
    ]);
    await close();
  });

  it.each([
    ["an error document", JSON.stringify([{ RecallID: 0, RecallNumber: null, Title: "Error retrieving Recalls: timeout" }])],
    ["a web page", "<!DOCTYPE html><html><body>Recalls</body></html>"],
    ["another table", "name,price\nkettle,12\n"],
    ["nothing", ""],
  ])("refuses %s with one sentence and leaves the store untouched", async (_name, text) => {
    const { db, load, close } = await start(open);
    await load(plainList([heater]));
    const entries = await db.recordEntry.count();
    await expect(load(text)).rejects.toThrow(Trouble);
    expect(await db.notice.count()).toBe(1);
    expect(await db.importRun.count()).toBe(1);
    expect(await db.recordEntry.count()).toBe(entries);
    await close();
  });

  it("writes its record entries with the change and refuses a surveyor", async () => {
    const { db, load, organisation, close } = await start(open);
    await load(plainList([heater]));
    const entries = await db.recordEntry.findMany({ orderBy: { number: "asc" } });
    expect(entries.map(({ what }) => what)).toEqual(["brought in notices", "loaded a recall list"]);
    await expect(load(plainList([kettle]), await makeActor(db, organisation.id, "surveyor"))).rejects.toThrow(Refused);
    expect(await db.notice.count()).toBe(1);
    await close();
  });
});
