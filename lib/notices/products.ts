import type { Notice } from "./notice";
import { titleParts } from "./title-parts";

/** Heads that say too little alone: "cleaner", "maker"; the word before belongs to them. */
const vagueHead =
  /^(?:cleaner|maker|machine|conditioner|washer|dryer|cooker|processor|fixture|light|heater|fan|oven|range|extractor|dehydrator|dispenser|charger|bank|supply|strip|cord|adapter|opener|fryer|kettle|grill|pot|press|set|system|kit|pump|mower|detector|alarm|lamp|bulb|blanket|throw|pad|tool|knife|cup|bottle|container|rail|chair|bed|frame|stand|device|unit|toy|cover|warmer|steamer|mixer|blender|iron|saw|drill|generator|freezer|refrigerator|cooler|cooktop|top|hood|disposal|vacuum|purifier|humidifier|dehumidifier|pan|pitcher|grinder|brewer|brewing system)$/;

/** What the product is, lower case and singular: "steam cleaner". From the title's words and the list's product names. */
export function productsOf(notice: Notice): string[] {
  const phrases = [titleParts(notice.title).product, ...notice.productNames];
  const products = phrases.flatMap((phrase) => phrase.split(/,\s(?:and\s)?|\sand\s|;/)).map(kindOf);
  return [...new Set(products.filter((product) => product !== ""))].slice(0, 8);
}

/** `Larkfield Steam Cleaners with attachments` -> `steam cleaner`. */
function kindOf(phrase: string): string {
  const words = phrase
    .replace(/\s+(?:with|for|sold|containing|used|that|including|in|installed|due|model)\b.*$/i, "")
    .replace(/\([^)]*\)/g, " ")
    .replace(/[^\p{L}\s&’'-]/gu, " ")
    .trim()
    .split(/\s+/)
    .filter((word) => /\p{L}{2}/u.test(word));
  const head = singular((words[words.length - 1] ?? "").toLowerCase());
  if (head === "") return "";
  const before = words[words.length - 2]?.toLowerCase();
  return vagueHead.test(head) && before !== undefined && /^[a-z-]+$/.test(before) ? `${before} ${head}` : head;
}

function singular(word: string): string {
  if (/(?:ss|us|is)$/.test(word)) return word;
  if (/(?:ches|shes|sses|xes|zes)$/.test(word)) return word.slice(0, -2);
  if (/ies$/.test(word) && word.length > 4) return `${word.slice(0, -3)}y`;
  if (/knives$/.test(word)) return word.replace(/knives$/, "knife");
  return word.replace(/s$/, "");
}
