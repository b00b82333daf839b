/** Where an appliance is. */
export const placeColumns = { siteId: true, unitId: true, outletId: true, receptacle: true } as const;

export type PlaceName = keyof typeof placeColumns;

export const placeNames = Object.keys(placeColumns) as readonly PlaceName[];

/** What its rating and what it may draw follow from. */
export const ratingColumns = {
  category: true,
  ratedVolts: true,
  ratedHertz: true,
  ratedWatts: true,
  ratedAmps: true,
  labelText: true,
  protectionClass: true,
  maxLampWatts: true,
} as const;

export type RatingColumnName = keyof typeof ratingColumns;

/** What its plate says. */
export const plateColumns = {
  ...ratingColumns,
  brand: true,
  model: true,
  serial: true,
  made: true,
  dateCode: true,
  mark: true,
  upc: true,
} as const;

/** What a labels row or a form says of it, apart from its tag and place. */
export const labelFactColumns = { ...plateColumns, owner: true, notes: true } as const;

export type LabelFactName = keyof typeof labelFactColumns;

/** The same by name, in a fixed order. */
export const labelFactNames = Object.keys(labelFactColumns) as readonly LabelFactName[];
