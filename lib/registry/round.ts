import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requirePermission } from "@/lib/access/permissions";
import type { Db } from "@/lib/store/client";
import { addressChoice, addressPage, addressText } from "./address-fields";
import { mySites } from "./finding-list";
import { type RoundStop, stopsOfSite } from "./inspection-due-list";
import { searchWords } from "./search-text";

export const stopsAPage = 100;
/** The most stops that are printed at once. */
const mostPrinted = 2000;
const dayMs = 86_400_000;
/** How far back a round that names no first day counts what is done. */
const usualRoundDays = 30;

/** A round's state in its address. */
export const roundQuery = z.object({
  site: addressText,
  q: addressText,
  show: addressChoice(["due", "overdue", "never", "done", "all"]),
  since: z
    .string()
    .regex(/^\d{4}-\d\d-\d\d$/)
    .refine((text) => !Number.isNaN(Date.parse(text)))
    .optional()
    .catch(undefined),
  print: addressChoice(["all"]),
  page: addressPage,
});
export type RoundQuery = z.output<typeof roundQuery>;

export interface Round {
  readonly sites: readonly { readonly id: string; readonly name: string }[];
  /** Null where the actor has no site. */
  readonly site: { readonly id: string; readonly name: string } | null;
  readonly stops: readonly RoundStop[];
  readonly total: number;
  readonly page: number;
  readonly pages: number;
  /** Inspected since `since`, and still due. */
  readonly done: number;
  readonly open: number;
  readonly since: Date;
}

function shows(stop: RoundStop, show: RoundQuery["show"], since: Date): boolean {
  if (show === "all") return true;
  if (show === "overdue") return stop.state === "overdue";
  if (show === "never") return stop.lastAt === null;
  if (show === "done") return stop.lastAt !== null && stop.lastAt >= since;
  return stop.state !== "later";
}

/** The round of a site: what is due or overdue in walking order, and how far it is done. Permission: `see inspections`. */
export async function planRound(db: Db, actor: Actor, { query, now }: { readonly query: RoundQuery; readonly now: Date }): Promise<Round> {
  requirePermission(actor, "see inspections");
  const sites = await mySites(db, actor);
  const since = query.since ? new Date(`${query.since}T00:00:00Z`) : new Date(now.getTime() - usualRoundDays * dayMs);
  const siteId = query.site ?? sites[0]?.id;
  if (siteId === undefined) return { sites, site: null, stops: [], total: 0, page: 1, pages: 1, done: 0, open: 0, since };
  const { site, stops } = await stopsOfSite(db, actor, { siteId, now });
  const words = searchWords(query.q ?? "");
  const found = stops.filter((stop) => shows(stop, query.show, since) && words.every((word) => isIn(stop, word)));
  const size = query.print === "all" ? mostPrinted : stopsAPage;
  const pages = Math.max(1, Math.ceil(found.length / size));
  const page = Math.min(query.page ?? 1, pages);
  return {
    sites,
    site,
    stops: found.slice((page - 1) * size, page * size),
    total: found.length,
    page,
    pages,
    done: stops.filter(({ lastAt }) => lastAt !== null && lastAt >= since).length,
    open: stops.filter(({ state, lastAt }) => state !== "later" && !(lastAt !== null && lastAt >= since)).length,
    since,
  };
}

function isIn({ searchText, place }: RoundStop, word: string): boolean {
  return searchText.includes(word) || [place.unit, place.outlet].some((name) => name?.toLowerCase().includes(word));
}
