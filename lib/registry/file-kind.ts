import type { ImportKind } from "@/lib/store/import-queries";
import { headerKey } from "./column-guess";
import { guessMapping } from "./label-row";
import { guessPlaceMapping } from "./place-row";

const has = (keys: ReadonlySet<string>, ...names: string[]) => names.some((name) => keys.has(name));

/**
 * What a CSV file holds, by its header names: an outlet log has times and outlets, a recall list notices with titles or a
 * recall's number, a places file circuits or outlets without appliances; everything else is taken for labels.
 */
export function kindOfHeaders(headers: readonly string[]): ImportKind {
  const keys = new Set(headers.map(headerKey));
  const isLog = has(keys, "at", "time", "timestamp", "datetime") && has(keys, "outlet", "watts", "amps", "event", "receptacle");
  if (isLog) return "log";
  const isRecall =
    has(keys, "recallnumber", "recallid", "recallheading", "remedytype", "hazard", "hazarddescription", "risktype") ||
    (has(keys, "nid") && has(keys, "title")) ||
    (has(keys, "number") && has(keys, "title") && has(keys, "product", "description", "brand"));
  if (isRecall) return "notices";
  const labels = Object.values(guessMapping(headers)).filter((target) => target !== null && target !== "keep_in_notes").length;
  const places = Object.values(guessPlaceMapping(headers)).filter((target) => target !== null).length;
  const namesAppliances = has(keys, "brand", "model", "serial", "labeltext", "category", "manufacturer", "tag");
  return !namesAppliances && places >= labels && places >= 2 ? "places" : "labels";
}

/** What a file holds by its first bytes, where it is no CSV: JSON objects a line are a log, a JSON array or XML a recall list. */
export function kindOfJson(start: string): ImportKind | null {
  const text = start.replace(/^\uFEFF/, "").trimStart();
  if (text.startsWith("[") || /^<(?:\?xml|Safety-Gate)/i.test(text)) return "notices";
  if (!text.startsWith("{")) return null;
  const firstLine = text.split("\n")[0] ?? "";
  return /"at"\s*:/.test(firstLine) && /"outlet"\s*:/.test(firstLine) ? "log" : "notices";
}
