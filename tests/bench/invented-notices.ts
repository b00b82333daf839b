import type { Notice } from "@/lib/notices/notice";

/** Sentences of regulators' prose with invented makers; composed by a running number, so that no two notices are alike. */
const makers = ["Larkfield", "Quillmere", "Tavish", "Ostrel", "Corvane", "Ebbing", "Fenwick", "Marrowby"];
const kinds = [
  "Ceramic Heaters",
  "Steam Kettles",
  "Pressure Cookers",
  "Gas Ranges",
  "Tower Fans",
  "Juice Extractors",
  "Slow Cookers",
  "Dehumidifiers",
];
const bodies: readonly ((seed: number, code: (at: number) => string) => string)[] = [
  (_, code) =>
    `with model numbers ${code(0)}, ${code(1)}, ${code(2)} and ${code(3)}. The model number is printed on the rating label on the bottom of the unit. They were sold in black, white and red and measure about 12 inches high by 9 inches wide.`,
  (seed, code) =>
    `manufactured from February 20${20 + (seed % 9)} through August 20${21 + (seed % 9)}. The model numbers begin with ${code(0)} or ${code(1)} and the serial numbers range from ${10_000_000 + seed} through ${10_500_000 + seed}. Model ${code(2)} is not included in this recall.`,
  (seed, code) =>
    `in two sizes. The following are included:Model NumberSerial No. (From)Serial No. (To)${code(0)} ${seed % 10}07KMXXXXXXX ${seed % 10}11KMXXXXXXX ${code(1)} ${seed % 10}01KMXXXXXXX ${seed % 10}06KMXXXXXXX ${code(2)} ${seed % 10}02KMXXXXXXX ${seed % 10}09KMXXXXXXX`,
  (seed, code) =>
    `with date codes between ${1000 + (seed % 5000)} and ${2000 + (seed % 5000)} and model ${code(0)}. The 1,500-watt units have a six-foot cord. UPC codes 0123456${10_000 + (seed % 80_000)} are located on the packaging. Consumers can call (800) 555-0142 or visit www.example.org/recall for details.`,
  () =>
    "sold in a variety of colors. The brand name is printed on the front of the unit. No injuries have been reported. The units were sold from March 2029 through October 2030 for about $40.",
];

/** An invented notice for a running number, alike on every run. */
export function inventedNotice(seed: number): Notice {
  const maker = makers[seed % makers.length] ?? "";
  const kind = kinds[Math.floor(seed / 8) % kinds.length] ?? "";
  const body = bodies[seed % bodies.length];
  const code = (at: number) =>
    `${maker.slice(0, 2).toUpperCase()}${100 + ((seed * 7 + at * 13) % 900)}${"ABCDEFGH"[(seed + at) % 8]}${10 + (at % 80)}`;
  return {
    key: `31-${seed}`,
    number: `31-${seed}`,
    recordId: String(seed),
    source: "invented",
    format: "us-web-service",
    date: "2031-01-02",
    lastPublished: "2031-01-02",
    title: `${maker} Housewares Recalls ${maker} ${kind} Due to Risk of Serious Injury from Fire and Burn Hazards`,
    description: `This recall involves ${maker}-branded ${kind.toLowerCase()} ${body?.(seed, code) ?? ""} “${maker}” is printed on the front of the units. Consumers should immediately stop using the recalled units and contact ${maker} for a refund.`,
    productNames: [`${maker} ${kind}`],
    statedBrands: [],
    makers: [`${maker} Housewares Co. Ltd., of Tennant`],
    importers: [],
    distributors: [],
    retailers: ["Stores nationwide for about $40."],
    statedModels: null,
    statedSerials: null,
    madeFrom: null,
    madeTo: null,
    upcs: [],
    hazard: "The units can overheat.",
    remedy: "Refund",
    units: "About 12,000",
    incidents: null,
    contact: null,
    url: null,
  };
}
