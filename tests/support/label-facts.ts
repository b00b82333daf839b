import type { LabelFacts } from "@/lib/registry/appliance-columns";

/** An appliance of which nothing was read; a test fills in what it is about. */
export const noFacts: LabelFacts = {
  category: null,
  brand: null,
  model: null,
  serial: null,
  made: null,
  dateCode: null,
  ratedVolts: null,
  ratedHertz: null,
  ratedWatts: null,
  ratedAmps: null,
  labelText: null,
  protectionClass: null,
  maxLampWatts: null,
  mark: null,
  upc: null,
  owner: null,
  notes: null,
};
