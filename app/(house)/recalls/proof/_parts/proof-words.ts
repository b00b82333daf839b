import type { ProofQuery } from "@/lib/registry/negative-proof";
import { timeWords } from "../../../appliances/_parts/time-words";

/** An instant by a site's clock, with its zone. */
export function zonedWords(at: Date, timeZone: string | null): string {
  return `${timeWords(at, timeZone)} (${timeZone ?? "UTC"})`;
}

type Changes = { readonly [K in keyof ProofQuery]?: ProofQuery[K] | undefined };

/** An address of the proof with some parts changed; lists begin anew unless their page is what changes. */
export function proofHref(query: ProofQuery, changes: Changes, path = "/recalls/proof"): string {
  const merged: Changes = { ...query, page: undefined, notices: undefined, ...changes };
  const entries = Object.entries(merged).filter(([, value]) => value !== undefined && value !== "");
  const text = new URLSearchParams(entries.map(([name, value]) => [name, String(value)])).toString();
  return text === "" ? path : `${path}?${text}`;
}
