import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

/** Ways that headlines and texts name what stands on the product; the brands are parted by semicolons. */
const cases: [brands: string, title: string, description: string, productNames: string[], makers: string[]][] = [
  [
    "Larkfield",
    "Larkfield Housewares Recalls Larkfield Aria Space Heaters Due to Fire Hazard",
    "This recall involves Larkfield Aria portable space heaters with model number LF10.",
    ["Larkfield Aria Space Heaters"],
    ["Larkfield Housewares Inc., of Denver, Colo."],
  ],
  [
    "Aria Home",
    "Quillmere Imports Recalls Aria Home Space Heaters Due to Fire Hazard",
    "This recall involves Aria Home portable heaters. “Aria Home” is printed on the front.",
    [],
    ["Quillmere Imports LLC, of Miami"],
  ],
  [
    "Aria; A. O. Tavish; Ostrel; U.S. Quillmere; Corvane",
    "A. O. Tavish Recalls Water Heaters Due to Fire Hazard",
    "They were sold under the Aria, A. O. Tavish, Ostrel, U.S. Quillmere and Corvane brand names.",
    [],
    [],
  ],
  [
    "Quill Tavish; Ostrel",
    "Quill Tavish Recalls Toasters Due to Fire Hazard",
    "The recalled toasters are black.",
    ["Quill Tavish and Ostrel Toasters"],
    [],
  ],
  [
    "Aria; Ostrel; Corvane",
    "Larkfield Recalls Aria, Ostrel and Corvane Electric Pressure Cookers Due to Burn Hazard",
    "This recall involves Aria, Ostrel and Corvane electric pressure cookers.",
    [],
    ["Larkfield Inc., of Ohio"],
  ],
  ["Tavish", "CPSC, Tavish Corp. Recall Surge Protectors", "The surge protector has six outlets.", [], []],
  ["Amarol", "Heaters Recalled", "The recall includes 5.0 kW Amarol-brand heaters.", [], []],
  [
    "Tavish; Ostrel",
    "Quillmere Recalls Tavish and Ostrel Toasters Due to Fire Hazard",
    "This recall involves two-slice toasters.",
    [],
    ["Quillmere Inc., of Ohio"],
  ],
  [
    "Tavish",
    "Space Heaters Recalled Due to Fire Hazard; Sold Exclusively at Ostrel Stores; Imported by Tavish",
    "This recall involves Tavish-branded space heaters.",
    [],
    ["Tavish Inc., of Ohio"],
  ],
  [
    "Tavish",
    "Tavish Recalls Cordless Kettles",
    "The kettles are white and have the name “Tavish” on the side and “Quick Boil” on the lid.",
    ["Cordless Kettles"],
    [],
  ],
  [
    "KUNOLU",
    "Pool Drain Covers Recalled Due to Risk of Serious Injury or Death from Entrapment; Sold on Marketplace by KUNOLU",
    "This recall involves white pool drain covers. There is no labeling on the product.",
    [""],
    ["KUNOLU Pool Drain Covers"],
  ],
  [
    "Corvane",
    "Ebbing Sports Recalls Corvane Treadmills Due to Fall Hazard",
    "This recall involves Corvane model T-50 treadmills. The Corvane name is on the console.",
    ["Corvane T-50 Treadmills"],
    ["Ebbing Sports Co. Ltd., of Taiwan"],
  ],
  [
    "Corvane; Tavish; Ostrel",
    "Quillmere Recalls Dehumidifiers Due to Fire and Burn Hazards",
    "This recall involves 30-pint dehumidifiers sold under the brand names Corvane, Tavish and Ostrel.",
    ["Dehumidifiers"],
    ["Quillmere Co., of China"],
  ],
  [
    "Corvane; Tavish",
    "Quillmere Recalls Dehumidifiers Due to Fire Hazard",
    "The dehumidifiers were sold under the following brands: Corvane; Tavish. The brand name is on the front.",
    ["Dehumidifiers"],
    ["Quillmere Co., of China"],
  ],
  [
    "Corvane; Tavish",
    "Quillmere Recalls Ranges",
    "The ranges were sold under the names Corvane and Tavish.",
    ["Ranges"],
    ["Quillmere Co., of China"],
  ],
  [
    "Corvane",
    "Quillmere Recalls Ranges",
    "The brand name Corvane and the model number LF10 are printed on the rating label.",
    ["Ranges"],
    ["Quillmere Co., of China"],
  ],
  ["Corvane", "Quillmere Recalls Ranges", "The ranges have the Corvane logo on the front.", ["Ranges"], ["Quillmere Co., of China"]],
  [
    "Corvane",
    "Quillmere Recalls Ranges",
    "“Corvane” and the model number are printed on the label.",
    ["Ranges"],
    ["Quillmere Co., of China"],
  ],
  ["Corvane", "Quillmere Recalls Ranges", "The brand, Corvane, is printed on the door.", ["Ranges"], ["Quillmere Co., of China"]],
  [
    "Corvane",
    "Quillmere Recalls Ranges",
    "The word “CORVANE” appears on the front of the ranges.",
    ["Corvane ranges"],
    ["Quillmere Co., of China"],
  ],
  [
    "Corvane & Dale",
    "Corvane & Dale Recalls Candle Warmers",
    "This recall involves Corvane & Dale candle warmers.",
    [],
    ["Corvane & Dale Inc."],
  ],
  ["Dr. Corvane", "Quillmere Recalls Dr. Corvane Infrared Heaters", "This recall involves Dr. Corvane Infrared Heaters.", [], []],
  ["tavira", "tavira Recalls Desk Lamps", "This recall involves tavira desk lamps.", [], ["tavira LLC"]],
  [
    "Corvane Home",
    "Quillmere Recalls Corvane Home Electric Blankets; Sold Exclusively at Ostrel",
    "This recall involves Corvane Home-branded electric blankets and throws.",
    [],
    [],
  ],
  ["Corvane", "Corvane Recalls Garage Heaters, Model CG-5000", "This recall involves the CG-5000 garage heater by Corvane.", [], []],
  [
    "Larkfield; Tavish",
    "Larkfield and Tavish Coffeemakers Recalled by Quillmere Due to Burn Hazard",
    "The coffeemakers make 12 cups.",
    [],
    [],
  ],
  [
    "Larkfield",
    "CPSC, Larkfield Corp. Announce Recall of Halogen Lamps",
    "Larkfield Corp., of Denver, Colo., is voluntarily recalling about 5,000 halogen torchiere lamps. The lamps have “Made in Tennant” on the base.",
    ["Halogen lamps"],
    [],
  ],
  ["Larkfield", "Fire Hazard Prompts Recall of Larkfield Heaters", "The heaters can overheat.", ["Larkfield heaters"], []],
  [
    "Larkfield",
    "Larkfield Expands Recall of Cadence Space Heaters",
    "This expanded recall involves Larkfield Cadence space heaters.",
    [],
    ["Larkfield Inc."],
  ],
  [
    "Larkfield",
    "Larkfield Reannounces Recall of Heaters Due to Fire Hazard; One Death Reported",
    "This recall involves heaters.",
    [],
    ["Larkfield Inc."],
  ],
  [
    "Ostrel",
    "Quillmere Recalls Ostrel Kids Night Lights",
    "This recall involves Ostrel Kids night lights. Ostrel is printed on the plug.",
    [],
    [],
  ],
  [
    "Hollin Bay",
    "Quillmere Recalls Hollin Bay Ceiling Fans Due to Injury Hazard; Sold Exclusively at Ostrel",
    "This recall involves the 54 in. Hollin Bay Mara Indoor/Outdoor Ceiling Fans.",
    ["Hollin Bay Mara Indoor/Outdoor Ceiling Fans"],
    ["Quillmere Inc."],
  ],
  [
    "Larkfield",
    "Larkfield Recalls Chargers Sold with Tavish Tablets Due to Fire Hazard",
    "This recall involves Larkfield AC adapters that were sold with Tavish tablets.",
    [],
    ["Larkfield Inc."],
  ],
  [
    "Larkfield",
    "Larkfield USA Recalls Humidifiers",
    "This recall involves all Larkfield humidifiers manufactured by Tavish Electric for Larkfield.",
    [],
    ["Tavish Electric Co. Ltd., of China"],
  ],
];

describe("brands as notices word them", () => {
  it.each(cases)("%s: %s", (brands, title, description, productNames, makers) => {
    const read = understand(inventedNotice({ title, description, productNames, makers })).brands;
    expect([...read].sort()).toEqual(brands.split("; ").sort());
  });
});
