import type { Severity } from "./signal-word";

/** One thing to look at. */
export interface CheckItem {
  readonly words: string;
  /** What to look for. */
  readonly look: string;
  /** The worst that it can credibly do when it is not right. */
  readonly severity: Severity;
}

/**
 * What is looked at, in the order of the hand from the plug to the appliance. Condensed from HSE HSG107 (3rd edition) and INDG236,
 * read in secondary sources; the last four are common practice, no source.
 */
export const checkItems = {
  plug: {
    words: "Plug",
    look: "Not cracked, pins straight and clean, no scorching, the right fuse where it has one.",
    severity: "serious",
  },
  cord: { words: "Cord", look: "No cuts, abrasion, tape or joints; not coiled or trapped.", severity: "serious" },
  anchorage: {
    words: "Cord anchorage",
    look: "The sheath is gripped at the plug and at the appliance; no coloured cores show.",
    severity: "serious",
  },
  enclosure: { words: "Enclosure", look: "Whole and closed; no live part can be reached.", severity: "serious" },
  heat: { words: "Signs of heat", look: "No burn marks, brown spots, smell or deformed plastic.", severity: "serious" },
  environment: { words: "Suitable for its place", look: "Not in wet, dust, heat or outdoors unless made for it.", severity: "serious" },
  vents: { words: "Vents", look: "Clear of dust and cover.", severity: "serious" },
  switches: { words: "Switches and controls", look: "Work, and return to off.", severity: "minor" },
  guards: { words: "Guards and stability", look: "Guards in place; stands firm.", severity: "minor" },
  label: { words: "Rating plate", look: "Readable, and agrees with what the registry says.", severity: "none" },
} as const satisfies Readonly<Record<string, CheckItem>>;

export type CheckName = keyof typeof checkItems;
export const checkNames = Object.keys(checkItems) as readonly CheckName[];

export const verdicts = ["pass", "fail", "not applicable"] as const;
export type Verdict = (typeof verdicts)[number];

/** What was seen of one item. */
export interface Checked {
  readonly name: CheckName;
  readonly verdict: Verdict;
  readonly note: string;
}
