/** What is known of one physical appliance for comparing it. `null` means not read, never "none". */
export interface ApplianceFacts {
  /** The caller's key: the registry's row id, or the tag of a labels file. */
  readonly id: string;
  readonly brand: string | null;
  readonly model: string | null;
  readonly serial: string | null;
  /** The date code as printed on the appliance. */
  readonly dateCode: string | null;
  /** Manufacture date as known: `YYYY`, `YYYY-MM` or `YYYY-MM-DD`. */
  readonly made: string | null;
  /** The product kind in a person's words, such as "space heater". */
  readonly category: string | null;
  readonly upc: string | null;
  readonly labelText: string | null;
}
