/** The shapes of stored rows, for code that takes a row it was handed; only the store itself asks the database. */
export type {
  Appliance,
  ApplianceState,
  Circuit,
  Finding,
  FindingNote,
  FindingState,
  Observation,
  Outlet,
  Placement,
  RecordEntry,
  Site,
  Unit,
} from "./generated/sqlite/client";
