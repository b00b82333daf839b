import type { Notice } from "@/lib/notices/notice";

/** An invented notice; only what a test is about is given. */
export function inventedNotice(given: Partial<Notice>): Notice {
  return {
    key: "31-001",
    number: "31-001",
    recordId: null,
    source: "invented",
    format: "us-web-service",
    date: "2031-01-02",
    lastPublished: null,
    title: "Larkfield Recalls Kettles Due to Burn Hazard",
    description: "",
    productNames: [],
    statedBrands: [],
    makers: [],
    importers: [],
    distributors: [],
    retailers: [],
    statedModels: null,
    statedSerials: null,
    madeFrom: null,
    madeTo: null,
    upcs: [],
    hazard: null,
    remedy: null,
    units: null,
    incidents: null,
    contact: null,
    url: null,
    ...given,
  };
}
