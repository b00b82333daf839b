import { z } from "zod";
import type { CandidateQuery, NoticeQuery } from "@/lib/registry/recall-overview";

/** What a page gets from its address. */
export type SearchParams = Promise<Record<string, string | string[] | undefined>>;

const page = z.coerce.number().int().min(1).max(100_000).catch(1);
const search = z.string().max(200).catch("");
const order = z.enum(["asc", "desc"]);

const candidateAddress = z.object({
  q: search,
  state: z.enum(["open", "unsure", "affected", "not_affected", "all"]).catch("open"),
  grade: z.enum(["all", "covered", "likely", "check_label", "not_covered"]).catch("all"),
  sort: z.enum(["work", "score", "raised", "notice", "maker"]).catch("work"),
  order: order.catch("asc"),
  page,
});
const noticeAddress = z.object({
  nq: search,
  nstate: z.enum(["all", "current", "amended", "gone"]).catch("all"),
  nsort: z.enum(["date", "number", "title"]).catch("date"),
  norder: order.catch("desc"),
  npage: page,
});

export interface RecallsAddress {
  readonly candidates: CandidateQuery;
  readonly notices: NoticeQuery;
}

/** The state of the recalls page from its address; what makes no sense there is as if it were not there. */
export function readAddress(given: Awaited<SearchParams>): RecallsAddress {
  const flat = Object.fromEntries(Object.entries(given).map(([name, value]) => [name, Array.isArray(value) ? value[0] : value]));
  const { q, ...candidates } = candidateAddress.parse(flat);
  const { nq, nstate, nsort, norder, npage } = noticeAddress.parse(flat);
  return { candidates: { search: q, ...candidates }, notices: { search: nq, state: nstate, sort: nsort, order: norder, page: npage } };
}

const usual = readAddress({});

/** The address of a state of the page; what is as usual is left out. */
export function addressOf({ candidates, notices }: RecallsAddress, to?: string): string {
  const pairs: [string, string | number, string | number][] = [
    ["q", candidates.search, ""],
    ["state", candidates.state, usual.candidates.state],
    ["grade", candidates.grade, usual.candidates.grade],
    ["sort", candidates.sort, usual.candidates.sort],
    ["order", candidates.order, usual.candidates.order],
    ["page", candidates.page, 1],
    ["nq", notices.search, ""],
    ["nstate", notices.state, usual.notices.state],
    ["nsort", notices.sort, usual.notices.sort],
    ["norder", notices.order, usual.notices.order],
    ["npage", notices.page, 1],
  ];
  const params = new URLSearchParams(pairs.filter(([, value, plain]) => value !== plain).map(([name, value]) => [name, String(value)]));
  const query = params.toString();
  return `/recalls${query === "" ? "" : `?${query}`}${to ? `#${to}` : ""}`;
}
