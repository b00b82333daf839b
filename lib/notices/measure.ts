/** Units that notices print beside numbers: sizes, ratings, counts and ages. */
const unit =
  "inch(?:es)?|in\\.?|feet|foot|ft\\.?|yards?|cm|mm|centimeters?|millimeters?|meters?|miles?|mph|pounds?|lbs?\\.?|ounces?|oz\\.?|grams?|kg|kilograms?|quarts?|qts?\\.?|liters?|litres?|ml|milliliters?|gallons?|gal\\.?|pints?|watts?|kw|kilowatts?|horsepower|hp|volts?|vac|vdc|amps?|amperes?|mah|ah|wh|hertz|hz|khz|btus?|cups?|slices?|slots?|pieces?|pcs?|packs?|count|ct|speeds?|lights?|drawers?|burners?|tiers?|trays?|steps?|stages?|doors?|shelves|years?|months?|weeks?|days?|hours?|minutes?|seconds?|degrees?|percent|gpm|gph|psi|cfm|rpm|cubic|square|cc|size[ds]?|sets?|bulbs?|pc|ports?|outlets?|prongs?|wires?|wheels?|person|people|inch-wide|qt-capacity|gauge|awg|megapixels?|gb|tb|colou?rs?|styles?|models?|versions?|units?|products?|digits?|letters?|characters?|characters|times|reports?|incidents?|fires?|injuries|states|stores|screws|batteries|bundles?|bands?|hangers?|players?|nozzles?|buttons?|settings?|eyelets?|layers?|panels?|sided|sections?|position|string|strings|lbs|stars?|ply|series-pack";
const withUnit = new RegExp(
  `^\\d+(?:[.,/]\\d+)*(?:\\s?[-–]?\\s?(?:x|by|to|or|and)?\\s?[-–]?\\s?\\d+(?:\\.\\d+)?)?[-\\s]?(?:${unit})(?:-.*)?$`,
  "i",
);
const unitAlone = new RegExp(`^(?:${unit})$`, "i");

/** `1500-watt`, `30-inch`, `12"`, `5-Light`, `120V`, `14.6"`, `2-in-1`: a size, rating or count, never a model. */
export function isMeasure(text: string): boolean {
  if (/^(?:AC|DC)\d{1,3}(?:[.-]\d+)?V$/.test(text)) return true;
  if (!/^\d/.test(text)) return false;
  if (/["″”'′’]$/.test(text)) return true;
  if (/^\d{1,2}-(?:in|on|by)-\d{1,2}$/i.test(text) || /^\d+(?:\.\d+)?[x×]\d+(?:\.\d+)?(?:[x×]\d+)?$/i.test(text)) return true;
  if (/^\d{1,3}(?:-\d{1,3})?V(?:AC|DC)?[/-]\d{2,4}(?:HZ|W|A|V)?$/i.test(text) || /^\d{2}\/?\d{0,2}HZ$/i.test(text)) return true;
  if (/^\d{1,4}[wv]$/i.test(text) || /^\d{1,3}(?:\.\d+)?[aqlfck]$/i.test(text)) return true;
  return withUnit.test(text) || /^\d{1,3}\.\d{1,2}$/.test(text);
}

/** Whether a word makes a measure of the number before it. Single capitals are left out: `30 C` may be a code. */
export function isUnitWord(text: string): boolean {
  return text.length > 1 && unitAlone.test(text) && !/^(?:models?|versions?|units?|products?|state|in)$/i.test(text);
}
