/** What decides the permitted deviation of an appliance and how its draw follows the voltage. */
export type LoadKind = "heating" | "combined" | "motor" | "small_motor" | "electronics" | "lamp" | "unknown";

/**
 * Category words and their kind; the first row that fits wins, so the narrower words stand first.
 * The rows of IEC 60335-1 Table 1 by kind of appliance; the words are the product's own list.
 */
const categoryRows: readonly (readonly [RegExp, LoadKind])[] = [
  [/\bheat ?lamp/, "heating"],
  [/dehumidif|heat ?pump|air ?con|\ba ?\/ ?c\b|\bac unit|cooler|chiller/, "motor"],
  [/lamp|light|lantern|luminaire|chandelier|\bbulb|sconce/, "lamp"],
  [/hair ?dr[iy]er|hair ?styler|straightener|hot ?air|hand ?dr[iy]er|heat ?gun/, "heating"],
  [/dish ?washer|dr[iy]er|washing|laundry|\bwasher/, "combined"],
  [/coffee ?grind|spice ?grind|ice ?cream|soda ?maker/, "motor"],
  [/shaver|tooth ?brush|clipper|trimmer|massag|hand ?blender|hand ?mixer/, "small_motor"],
  [/heat|radiator|kettle|toaster|coffee|espresso|\birons?\b|steamer|blanket|warmer|sauna|vapori[sz]er/, "heating"],
  [
    /cook|oven|stove|\bhob\b|hot ?plate|grill|griddle|fryer|microwave|waffle|roaster|\brange\b|sandwich|boiler|bread ?(maker|machine)/,
    "heating",
  ],
  [/wax ?melt|curling|crock|popcorn|rice|egg ?boil|urn\b|geyser|kiln|glue ?gun/, "heating"],
  [/vacuum|\bfans?\b|blower|fridge|refrigerat|freezer|humidif|purif|ventilat|ice ?maker/, "motor"],
  [/blender|mixer|processor|juicer|kitchen ?machine|cutter|slicer|grinder|shredder|mill\b|chopper|opener/, "motor"],
  [/drill|\bsaw\b|sander|mower|pump|compressor|sewing|treadmill|motor|\btool\b|hoover|\bgym\b|polisher|router table/, "motor"],
  [/computer|laptop|notebook|\bpc\b|server|monitor|screen|display|\btv\b|televis|projector/, "electronics"],
  [/speaker|subwoofer|\bsound|stereo|audio|amplif|radio|hi ?fi|record player|turntable|console|receiver/, "electronics"],
  [
    /network|router|modem|access point|switch|printer|scanner|copier|charg|adapt[eo]r|power supply|phone|tablet|camera|clock|\bups\b/,
    "electronics",
  ],
];

/** A category as compared: camel case split, lower case, joiners as spaces. */
export function categoryWords(category: string): string {
  return category
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replace(/[_\-./]+/g, " ")
    .toLowerCase()
    .trim();
}

/** The kind of load that a category names; `unknown` when it names none of the known ones. */
export function loadKindOf(category: string | null): LoadKind {
  if (category === null) return "unknown";
  const words = categoryWords(category);
  return categoryRows.find(([pattern]) => pattern.test(words))?.[1] ?? "unknown";
}

/** Lamps whose draw does not follow the voltage as a filament's does, and heating that is not a resistance. */
const regulated = /\bled\b|fluoresc|compact|neon|microwave|induction|\bptc\b/;

/** Exponent of a tungsten filament's power over voltage, from memory; a plain resistance has 2. */
export const filamentExponent = 1.55;

/**
 * Exponent n of P ~ V^n by which a draw is referred to rated voltage: 2 for a resistance, 1.55 for a filament lamp,
 * 0 for motors, electronics and everything unknown, which are judged as measured.
 */
export function voltageExponent(kind: LoadKind, category: string | null): number {
  if (category !== null && regulated.test(categoryWords(category))) return 0;
  if (kind === "heating" || kind === "combined") return 2;
  return kind === "lamp" ? filamentExponent : 0;
}
