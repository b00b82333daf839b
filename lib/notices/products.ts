import type { Notice } from "./notice";
import { isProductWord } from "./product-words";
import { titleParts } from "./title-parts";

/** Heads that say too little alone: "cleaner", "maker"; the word before belongs to them. */
const vagueHead =
  /^(?:cleaner|maker|machine|conditioner|washer|dryer|cooker|processor|fixture|light|heater|fan|oven|range|extractor|dehydrator|dispenser|charger|bank|supply|strip|cord|adapter|opener|fryer|kettle|grill|pot|press|set|system|kit|pump|mower|detector|alarm|lamp|bulb|blanket|throw|pad|tool|knife|cup|bottle|container|rail|chair|bed|frame|stand|device|unit|toy|cover|warmer|steamer|mixer|blender|iron|saw|drill|generator|freezer|refrigerator|cooler|cooktop|top|hood|disposal|vacuum|purifier|humidifier|dehumidifier|pan|pitcher|grinder|brewer|brewing system)$/;

/** What only describes or belongs to the headline, and is no kind of product alone. */
const measureOnly =
  /^(?:-.*|electric|gas|wide|digital|hot|cold|coffee|heating|cooling|water|various|model|type|number|free-standing|slide-in|built-in|gas-fueled|down-draft|included|installed|recall|announced|hazard|warn|number|professional|deluxe|classic)$/;

/** What the product is, lower case and singular: "steam cleaner". From the title's words and the list's product names. */
export function productsOf(notice: Notice): string[] {
  const phrases = [titleParts(notice.title).product, ...notice.productNames];
  const products = phrases.flatMap((phrase) => phrase.split(/,\s(?:and\s)?|\sand\s|;/)).map(kindOf);
  const kinds = [...new Set(products.filter((product) => product !== ""))];
  const known = kinds.filter((kind) => isProductWord(kind.split(" ").at(-1) ?? "") && !measureOnly.test(kind));
  if (known.length > 0) return known.slice(0, 8);
  const others = kinds.filter((kind) => !measureOnly.test(kind));
  return (others.length > 0 ? others : makerKinds(notice)).slice(0, 8);
}

/** Some lists put the product into the makers' field. */
function makerKinds(notice: Notice): string[] {
  const kinds = notice.makers.map(kindOf).filter((kind) => isProductWord(kind.split(" ").at(-1) ?? ""));
  return [...new Set(kinds)].filter((kind) => kind !== "" && !measureOnly.test(kind));
}

/** `Larkfield Steam Cleaners with attachments` -> `steam cleaner`. */
function kindOf(phrase: string): string {
  const words = phrase
    .replace(/\s+(?:with|for|sold|containing|used|that|including|included|in|installed|due|model)\b.*$/i, "")
    .replace(/\([^)]*\)/g, " ")
    .replace(/[^\p{L}\s&’'-]/gu, " ")
    .trim()
    .split(/\s+/)
    .filter((word) => /^[^-]*\p{L}{2}/u.test(word));
  const head = singular((words[words.length - 1] ?? "").toLowerCase());
  if (head === "") return "";
  const before = words[words.length - 2]?.toLowerCase();
  return vagueHead.test(head) && before !== undefined && /^[a-z-]+$/.test(before) && isProductWord(before) ? `${before} ${head}` : head;
}

function singular(word: string): string {
  if (/(?:ss|us|is|gas)$/.test(word)) return word;
  if (/(?:ches|shes|sses|xes|zes)$/.test(word)) return word.slice(0, -2);
  if (/ies$/.test(word) && word.length > 4) return `${word.slice(0, -3)}y`;
  if (/knives$/.test(word)) return word.replace(/knives$/, "knife");
  return word.replace(/s$/, "");
}
