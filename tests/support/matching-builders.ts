import type { ApplianceFacts } from "@/lib/identity/appliance-facts";
import type { NoticeToIndex } from "@/lib/matching/covered-notice";
import type { Coverage } from "@/lib/notices/coverage";

/** A coverage of an invented notice. */
export function makeCoverage(given: Partial<Coverage> = {}): Coverage {
  return {
    notice: "T-1",
    brands: ["Velnost"],
    products: ["space heater"],
    models: { stated: "listed", include: ["VH-1200"], exclude: [] },
    serials: [],
    dateCodes: [],
    made: [],
    upcs: [],
    spans: [],
    ...given,
  };
}

export function makeNotice(coverage: Coverage, text: { title?: string; description?: string } = {}): NoticeToIndex {
  return { key: coverage.notice, coverage, notice: { title: text.title ?? "", description: text.description ?? "" } };
}

/** An appliance that the plain invented notice covers, with what the test changes. */
export function makeAppliance(given: Partial<ApplianceFacts> = {}): ApplianceFacts {
  return {
    id: "A1",
    brand: "Velnost",
    model: "VH-1200",
    serial: null,
    dateCode: null,
    made: null,
    category: "space heater",
    upc: null,
    labelText: null,
    ...given,
  };
}
