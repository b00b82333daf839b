/** One line of an invented maker's catalogue. */
export interface Family {
  readonly maker: string;
  readonly category: string;
  /** Models of the family; a recall may take some and spare others. */
  readonly models: readonly string[];
  readonly watts: number;
  readonly protectionClass: "I" | "II";
  /** Serial numbers: letters, then year and week, then a running number. */
  readonly serialLetters: string;
  /** The highest lamp wattage, for a fixture. */
  readonly maxLampWatts?: number;
  /** How many of a hundred appliances are of this family. */
  readonly share: number;
}

const family = (
  maker: string,
  category: string,
  models: string,
  [watts, protectionClass, serialLetters, share]: [number, "I" | "II", string, number],
  maxLampWatts?: number,
): Family => ({
  maker,
  category,
  models: models.split(" "),
  watts,
  protectionClass,
  serialLetters,
  share,
  ...(maxLampWatts === undefined ? {} : { maxLampWatts }),
});

/** The catalogue. Every maker and model is invented; 120 V, 60 Hz. */
export const families: readonly Family[] = [
  family("Keldamar", "convection heater", "HT-1500B HT-1500C HT-900 HT-1500E", [1500, "II", "KM", 5]),
  family("Sundrake", "space heater", "PX-20 PX-20T PX-12", [1500, "I", "SD", 4]),
  family("Pellwick", "dehumidifier", "DH-50E DH-35E DH-70E", [575, "I", "PW", 4]),
  family("Marrowby", "toaster", "T2-410 T4-420 T4-420R", [1100, "I", "MB", 7]),
  family("Marrowby", "kettle", "K17-900 K17-905", [1500, "I", "MB", 5]),
  family("Orvandel", "coffee maker", "CM1200 CM1210 CM1450S", [1050, "I", "OV", 7]),
  family("Orvandel", "espresso machine", "EX-77 EX-77W", [1350, "I", "OE", 2]),
  family("Quorrin", "microwave oven", "MW0911 MW1112 MW1113-B", [1500, "I", "QR", 6]),
  family("Tarnbeck", "refrigerator", "RF18NA RF21NA RF21NB", [160, "I", "TB", 6]),
  family("Tarnbeck", "chest freezer", "CF07 CF10", [120, "I", "TF", 2]),
  family("Luddock", "dishwasher", "DW24-6 DW24-8", [1300, "I", "LD", 3]),
  family("Luddock", "washing machine", "WM27A WM27C", [900, "I", "LW", 3]),
  family("Vessaly", "hair dryer", "HD-1875 HD-1600 HD-1875i", [1600, "II", "VS", 4]),
  family("Vessaly", "curling iron", "CI-19 CI-25", [85, "II", "VC", 2]),
  family("Halvane", "vacuum cleaner", "VC300 VC310 VC450", [1200, "II", "HV", 4]),
  family("Halvane", "air conditioner", "AC08K AC10K AC12K", [1100, "I", "HA", 3]),
  family("Ostrelle", "television", "LX43-E LX50-E LX55-E", [140, "II", "OS", 7]),
  family("Ostrelle", "sound bar", "SB210 SB330", [60, "II", "OB", 3]),
  family("Kestrane", "laser printer", "LP-2040 LP-2050n", [480, "I", "KS", 2]),
  family("Kestrane", "computer monitor", "M24f M27q", [45, "II", "KN", 6]),
  family("Pimmerel", "desk lamp", "DL-60 DL-40", [60, "II", "PM", 4], 60),
  family("Pimmerel", "floor lamp", "FL-100 FL-100B", [100, "II", "PF", 3], 100),
  family("Sallowick", "rice cooker", "RC-5 RC-10", [700, "I", "SW", 3]),
  family("Sallowick", "slow cooker", "SC6-V1 SC8-V1", [320, "I", "SC", 2]),
  family("Umberlane", "tower fan", "TF-36 TF-42 TF-42R", [55, "II", "UL", 4]),
  family("Umberlane", "box fan", "BF20 BF20W", [95, "II", "UB", 2]),
  family("Corvathe", "phone charger", "QC-20W QC-30W", [30, "II", "CV", 5]),
  family("Dunmarrow", "power strip", "PS6-15 PS8-15", [1875, "I", "DM", 4]),
  family("Eskerby", "blender", "BL-550 BL-700", [700, "II", "EB", 3]),
  family("Yarrowden", "electric blanket", "EB-Q2 EB-K2", [200, "II", "YD", 2]),
];

/** Makers that only the recall list knows: nothing of theirs is in the buildings. */
export const otherMakers: readonly string[] = [
  "Brindlecote",
  "Fallowick",
  "Grindlethorpe",
  "Inverlock",
  "Jessamere",
  "Nettlecombe",
  "Rookhaven",
  "Wrenfold",
];
