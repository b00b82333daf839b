import type { SitePack } from "@/lib/documents/site-pack";
import { both, type PackSection } from "@/lib/documents/site-pack-section";

/** A section of a pack, with what is given of it. */
export function sectionOf(given: Partial<PackSection> = {}): PackSection {
  return {
    key: "things",
    head: "Things",
    knownAsOf: "The day.",
    note: null,
    empty: "There is none.",
    columns: [both("what", "What", 100)],
    rows: [],
    ...given,
  };
}

/** A pack of an invented site with these sections. */
export function packOf(sections: readonly PackSection[], given: Partial<SitePack> = {}): SitePack {
  const at = new Date("2026-03-07T04:59:59.999Z");
  const head = { text: `7:${"0123456789abcdef".repeat(4)}`, at: new Date("2026-03-06T15:00:00Z"), time: "2026-03-06 10:00" };
  return { site: "Alder House", day: "2026-03-06", timeZone: "America/New_York", at, head, sections, ...given };
}
