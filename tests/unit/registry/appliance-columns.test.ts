import { describe, expect, it } from "vitest";
import { applianceColumns, factsHash, type LabelFacts } from "@/lib/registry/appliance-columns";
import { labelFactNames } from "@/lib/store/appliance-selects";

const blank = Object.fromEntries(labelFactNames.map((name) => [name, null])) as unknown as LabelFacts;
const facts = (some: Partial<LabelFacts>): LabelFacts => ({ ...blank, ...some });

describe("the columns that follow from a label", () => {
  it("read the plate's text where the columns are empty", () => {
    const columns = applianceColumns(
      "A-17",
      facts({ category: "space heater", labelText: "MODEL HT-1500C | S/N KM1 | DATE CODE 2347 | 120V~ 1500W" }),
    );
    expect(columns).toMatchObject({
      tagKey: "A17",
      model: "HT-1500C",
      serial: "KM1",
      dateCode: "2347",
      inputWatts: 1500,
      modelKey: "HT1500C",
    });
  });

  // IEC 60335-1 Table 1: heating appliances above 200 W may draw 5 % or 20 W more, whichever is greater.
  it("allow a heater of 1500 W 5 % more, and of 300 W the 20 W that are more than 5 %", () => {
    expect(applianceColumns("1", facts({ category: "heater", ratedWatts: 1500 })).allowedWatts).toBe(1575);
    expect(applianceColumns("1", facts({ category: "heater", ratedWatts: 300 })).allowedWatts).toBe(320);
  });

  it("keep a contradictory plate and mark it with the arithmetic", () => {
    const columns = applianceColumns("1", facts({ labelText: "120V 1500W 5A" }));
    expect(columns.inputWatts).toBe(1500);
    expect(columns.contradictions).toContain("600 VA");
  });

  it("say nothing where nothing is known", () => {
    const columns = applianceColumns("1", blank);
    expect(columns).toMatchObject({ inputWatts: null, allowedWatts: null, contradictions: null, brandKey: "", modelKey: "", model: null });
  });

  it("choose the printed pair that fits the site's voltage", () => {
    const plate = facts({ labelText: "240/208V 4500/3380W" });
    expect(applianceColumns("1", plate, 208).inputWatts).toBe(3380);
    expect(applianceColumns("1", plate, 240).inputWatts).toBe(4500);
  });

  it("can be searched without accents, case or separators", () => {
    const { searchText } = applianceColumns("A 17", facts({ brand: "Thérmelle", model: "HT-1500 C", owner: "Flat 3" }));
    for (const word of ["thermelle", "ht-1500", "ht1500c", "a17", "flat 3"]) expect(searchText).toContain(word);
  });
});

describe("the content hash", () => {
  it("is equal for facts that were filled from the text before, so that the same file changes nothing", () => {
    const given = facts({ labelText: "MODEL HT-1500C S/N KM1 120V" });
    const { model, serial, dateCode } = applianceColumns("1", given);
    expect(factsHash({ ...given, model, serial, dateCode })).toBe(factsHash(given));
  });

  it("differs when any one fact differs", () => {
    const hashes = labelFactNames.map((name) => factsHash(facts({ [name]: name === "ratedWatts" || name === "ratedAmps" ? 7 : "7" })));
    expect(new Set([...hashes, factsHash(blank)]).size).toBe(labelFactNames.length + 1);
  });
});
