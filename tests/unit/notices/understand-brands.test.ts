import { describe, expect, it } from "vitest";
import type { Notice } from "@/lib/notices/notice";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const cases: [what: string, notice: Partial<Notice>, brands: string[]][] = [
  ["the brand column of a plain list", { statedBrands: ["Fenwick", "Sola"] }, ["Fenwick", "Sola"]],
  [
    "the firm where the product's words are small letters only",
    {
      title: "Grindlethorpe Recalls Step Stools Due to Fall Hazard",
      description: "This recall involves folding step stools with two steps sold in red and gray.",
      productNames: ["step stools"],
      makers: ["Grindlethorpe Inc."],
    },
    ["Grindlethorpe"],
  ],
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
  ["a firm behind the agency's own name", { title: "CPSC and Quillmere Announce Recall of Tavish Water Filter Cartridges" }, ["Tavish"]],
  [
    "a recall named after its product",
    { title: "CPSC And Quillmere Systems, Inc., Announces Voluntary Dr. Tavish Recall" },
    ["Dr. Tavish"],
  ],
  [
    "an agreement of firm and agency",
    { title: "Quillmere Corp. and CPSC Reach Agreement To Replace Parts On Some Pronto Tavish Toasters" },
    ["Pronto Tavish"],
  ],
  ["a correction by the agency", { title: "CPSC Issues Correction of Tavish Dishwasher Model Numbers" }, ["Tavish"]],
  ["an adverb between firm and verb", { title: "Quillmere Voluntarily Recalls Certain Drip Coffeemakers" }, ["Quillmere"]],
  [
    "a code before the brand",
    { title: "Refrigerators Recalled Due to Fire Hazard", description: "This recall involves model QF21NB Tavish brand refrigerators." },
    ["Tavish"],
  ],
  [
    "a code before the product's name",
    { title: "Espresso Machines Recalled", productNames: ["Q1000 Tavish Automatic Coffee Center"], makers: ["Quillmere AG, of Norland"] },
    ["Tavish"],
  ],
  [
    "capitals that only shorten what the product is",
    { title: "Tavish Recalls VAC Pumps Due to Shock Hazard", productNames: ["Tavish duplex 115 VAC Pump"] },
    ["Tavish"],
  ],
  [
    "an owner's name that the text also has alone",
    { title: "Tavish's Combination Toaster Oven Voluntarily Recalled", description: "Tavish has received two reports." },
    ["Tavish"],
  ],
  [
    "an owner's name that is part of the brand",
    { title: "Quillmere and Corvane Recall Electric Toasters", productNames: ["Baker's Essentials Electric Toasters"] },
    ["Baker's Essentials"],
  ],
  [
    "two brands on one product",
    { title: "Tavish Recalls Coffee Presses", productNames: ["Ostrel + Tavish Recycled Coffee Presses"] },
    ["Ostrel", "Tavish"],
  ],
  ["a house brand of a shop", { title: "Quillmere Recalls Quillmere Basics Adjustable Dumbbells" }, ["Quillmere Basics"]],
  [
    "a brand with a number",
    { title: "Fans Recalled", description: 'The fans were sold under various brand names including "Tavish 9".' },
    ["Tavish 9"],
  ],
  [
    "a brand whose models the maker's field lists",
    { title: "Quillmere Recalls Tavish Ride-On Mowers", makers: ["Tavish Corsair Pro and Max Pro Ride-On Mowers"] },
    ["Tavish"],
  ],
  [
    "no codes of a table that ends before the word brand",
    {
      title: "Quillmere Recalls Ventilation Fans",
      description: "Configuration QMD C, D, or E QMP C, D, or E The brand name Tavish is on the front.",
    },
    ["Tavish"],
  ],
  [
    "no kind of product in capitals",
    {
      title: "Tavish Recalls Refrigerators",
      description: "They were sold as FRENCH DOOR REFRIGERATORS brand units through WINDOW-ROOM-AIR-CONDITIONERS brands.",
    },
    ["Tavish"],
  ],
  [
    "a place is no maker of that name",
    { title: "Quillmere Recalls Gas Rangetops", productNames: ["QM Regent Pro Rangetop"], makers: ["Norwick, Sundland"] },
    ["QM Regent"],
  ],
  [
    "a long list, with a plain word, brackets and a brand written small in it",
    {
      title: "Dehumidifiers Recalled Due to Fire Hazard",
      description:
        "This recall involves dehumidifiers with the brand names including Tavish (Quillmere), Classic (Quillmere / Corvane Stores), Ostrel, little aire, Sola, and Fenwick. Others are safe.",
    },
    ["Tavish", "Classic", "Ostrel", "little aire", "Sola", "Fenwick"],
  ],
  [
    "brands with their models in brackets",
    {
      title: "Toasters Recalled",
      description: "Sold under the following brands: Tavish (model # QT200 or QT100), Ostrel (model # QZ2), and Rue Sola (model #QR2).",
    },
    ["Tavish", "Ostrel", "Rue Sola"],
  ],
  [
    "two lines of one firm",
    {
      title: "QE Recalls Dishwashers",
      productNames: ["QE Regent and QE Summit Dishwashers"],
      description: "This recall involves the QE Regent dishwashers.",
    },
    ["QE Regent", "QE Summit"],
  ],
  [
    "a logo of first letters",
    { title: "Corvane Recalls Grand Ostrel Toasters", description: "The GO logo is located on the front of the toasters." },
    ["GO"],
  ],
  [
    "the brand column of a flattened table",
    {
      title: "Quillmere Recalls Garbage Disposals",
      description:
        "Brand Model No. Location Description Serial No. Tavish 781-4001 Side 3/4 HP Disposer 1L5, or 1A6 Ostrel QWD75BR Bottom 3/4 HP Waste Disposer 1M5 Waste Sola 9981 Bottom 1 HP Garbage Disposer",
    },
    ["Tavish", "Ostrel", "Waste Sola"],
  ],
  [
    "a column of brands that stands in one cell",
    {
      title: "Quillmere Recalls Air Conditioners",
      description: "Brand Name Model Number Serial Number Begins With Fenwick Tavish Sola-Aire QEQ08F2E MQQ08F2E RQD-81 AR, AS",
    },
    ["Fenwick", "Tavish", "Sola-Aire"],
  ],
  ["a name that begins with a colour", { title: "Quillmere Recalls Brown & Tavish Coffeemakers" }, ["Brown & Tavish"]],
  ["branded as", { title: "Quillmere Recalls Wall Lanterns", description: "At one shop they were branded as Tavish lights." }, ["Tavish"]],
  [
    "a name and its first letters, where the text uses both",
    {
      title: "CPSC, GO Announce Recall of Dishwashers",
      productNames: ["Grand Ostrel Dishwashers"],
      description: "The GO dishwasher models are white.",
    },
    ["Grand Ostrel", "GO"],
  ],
  ["a headline in Spanish", { title: "Tavish retira lavaplatos por peligro de incendio" }, ["Tavish"]],
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
  ["Corvane Over-the-Range Microwaves Recalled Due to Shock Hazard", "microwave"],
  ["Corvane Recalls Tip Restraint Kits Included in Bedroom Furniture", "kit"],
  ["Corvane Reannounces and Expands Adult Portable Bed Rails Recall Due to Risk of Serious Injury", "bed rail"],
  ["Refrigerator Repair Program Announced", "refrigerator"],
];

/** Parts of names, measures and words of the headline are no kinds of product. */
const onlyProducts: [notice: Partial<Notice>, products: string[]][] = [
  [{ title: "Tavish and Ostrel Mattresses Recalled Due to Fire Hazard" }, ["mattress"]],
  [{ title: "Corvane Portable Gas and Fuel Cans Recalled" }, ["can"]],
  [{ title: "Tavish 3-Drawer, 4-Drawer, and 5-Drawer Dressers Recalled" }, ["dresser"]],
  [
    { title: "Corvane Recalls Two-Wheeled Folding Electric Due to Fall Hazard", makers: ["Corvane Folding Electric Scooters"] },
    ["scooter"],
  ],
  [{ title: "Certain Corvane 14-cubic-foot Refrigerators Recalled" }, ["refrigerator"]],
];

describe("products are nothing but kinds of product", () => {
  it.each(onlyProducts)("%j", (notice, products) => {
    expect(understand(inventedNotice(notice)).products).toEqual(products);
  });
});

describe("products are named in the singular, in small letters", () => {
  it.each(products)("%s", (title, product) => {
    expect(understand(inventedNotice({ title })).products).toContain(product);
  });
});
