import { describe, expect, it } from "vitest";
import type { Notice } from "@/lib/notices/notice";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const cases: [what: string, notice: Partial<Notice>, brands: string[]][] = [
  ["the brand column of a plain list", { statedBrands: ["Fenwick", "Sola"] }, ["Fenwick", "Sola"]],
  ["-branded", { title: "Kettles Recalled Due to Burn Hazard", description: "This recall involves Ostrel-branded kettles." }, ["Ostrel"]],
  [
    "several brands",
    { title: "Fans Recalled Due to Fire Hazard", description: "They were sold under the brand names Tavish, Ostrel and Corvane Home." },
    ["Tavish", "Ostrel", "Corvane Home"],
  ],
  [
    "a brand name in quotation marks",
    { title: "Fans Recalled Due to Fire Hazard", description: 'The brand name "Tavish" or "Ostrel" is on the front.' },
    ["Tavish", "Ostrel"],
  ],
  [
    "a brand that another firm makes",
    { title: "Quillmere Recalls Tavish Ceramic Heaters Due to Fire Hazard", makers: ["Quillmere Co. Ltd., of Tennant"] },
    ["Tavish"],
  ],
  [
    "the firm where it names the product",
    { title: "Tavish USA Recalls Ceramic Heaters Due to Fire Hazard", description: "This recall involves Tavish ceramic heaters." },
    ["Tavish"],
  ],
  ["the firm alone, without its legal form", { title: "Quillmere Housewares Inc. Recalls Toasters Due to Fire Hazard" }, ["Quillmere"]],
  [
    "the product name before the importer",
    { title: "Food Dehydrators Recalled by Quillmere Trade Due to Fire Hazard", productNames: ["OSTDRY Food Dehydrators"] },
    ["OSTDRY"],
  ],
  ["two brands of one product phrase", { title: "Tavish and Ostrel Mattresses Recalled Due to Fire Hazard" }, ["Tavish", "Ostrel"]],
  ["a firm with an and in its name", { title: "Thread and Barrow Recalls Steam Irons Due to Fire Hazard" }, ["Thread and Barrow"]],
  [
    "a brand of initials and a joined word",
    { title: "Quillmere Recalls Ostrel & Marrow Gas Ranges Due to Fire Hazard" },
    ["Ostrel & Marrow"],
  ],
  [
    "a name printed in capitals, as the title writes it",
    {
      title: "Steam Irons Recalled Due to Fire Hazard; Sold on the Web by Ostrel",
      description: '"OSTREL" is printed on the handle.',
      productNames: ["Ostrel Steam Irons"],
    },
    ["Ostrel"],
  ],
];

describe("brands", () => {
  it.each(cases)("%s", (_what, notice, brands) => {
    expect(understand(inventedNotice({ title: "", ...notice })).brands).toEqual(brands);
  });

  it("are not the shop a product was sold at", () => {
    const notice = inventedNotice({
      title: "Tavish Recalls Ceramic Heaters Due to Fire Hazard; Sold Exclusively at Corvane",
      description: "This recall involves Tavish ceramic heaters.",
    });
    expect(understand(notice).brands).toEqual(["Tavish"]);
  });
});

const products: [title: string, product: string][] = [
  ["Tavish Recalls Steam Cleaners Due to Burn Hazard", "steam cleaner"],
  ["Ostrel Pressure Washers Recalled Due to Shock Hazard", "pressure washer"],
  ["Tavish Recalls Multi-Cookers with Glass Lids Due to Burn Hazard", "multi-cooker"],
  ["Corvane Recalls Electric Fillet Knives Due to Laceration Hazard", "fillet knife"],
];

describe("products are named in the singular, in small letters", () => {
  it.each(products)("%s", (title, product) => {
    expect(understand(inventedNotice({ title })).products).toContain(product);
  });
});
