import { type LookupAddress, lookup as systemLookup } from "node:dns";
import { type IncomingMessage, request as plainRequest } from "node:http";
import { request as secureRequest } from "node:https";
import { isIP, type LookupFunction } from "node:net";
import { Transform } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createBrotliDecompress, createGunzip, createInflate } from "node:zlib";
import { checkAddress, isPublicAddress, privateAddress } from "@/lib/registry/list-address";
import { asFetchFailure, FetchFailed, statusFailure } from "./fetch-failure";

/** All addresses of a name; the system's name service unless a test stands in for it. */
export type Resolve = (name: string, done: (error: Error | null, addresses: readonly LookupAddress[]) => void) => void;

export interface FetchRules {
  /** From the first connection to the last byte, redirects included. */
  readonly milliseconds: number;
  /** Of the list itself, after decompression. */
  readonly bytes: number;
  readonly redirects: number;
  readonly ownHosts: ReadonlySet<string>;
  readonly resolve?: Resolve;
  /** Which addresses a name may lead to; the public ones unless a test says otherwise. */
  readonly isPublic?: (address: string) => boolean;
}

/** What a list's publisher is given time and room for. The largest list known has about 60 MB. */
export const fetchLimits = { milliseconds: 120_000, bytes: 128 * 1024 * 1024, redirects: 5 };

export interface ListRequest {
  readonly url: string;
  /** What the version that we have was marked with, so that the publisher need not send it again. */
  readonly etag: string | null;
  readonly lastModified: string | null;
}

interface Answered {
  /** The address that answered in the end. */
  readonly answeredBy: string;
  readonly status: number;
  readonly etag: string | null;
  readonly lastModified: string | null;
}
export type FetchedList = (Answered & { readonly kind: "unchanged" }) | (Answered & { readonly kind: "list"; readonly bytes: Buffer });

/**
 * Asks for a list. Each address on the way is judged before it is asked, and the connection goes to the very addresses that were
 * judged, so that a name cannot lead elsewhere between the two. Throws `FetchFailed` with one sentence otherwise.
 */
export async function fetchList(request: ListRequest, rules: FetchRules): Promise<FetchedList> {
  const deadline = AbortSignal.timeout(rules.milliseconds);
  let address = request.url;
  for (let hop = 0; hop <= rules.redirects; hop++) {
    const { url, isOwn } = requireAddress(address, rules, hop);
    const answer = await ask({ url, isOwn, request, rules, deadline }).catch((error: unknown) => {
      throw deadline.aborted ? tooSlow(url, rules) : asFetchFailure(error, url.host);
    });
    const next = redirectOf(answer, url);
    if (next === null) return takeAnswer({ answer, url, request, rules, deadline });
    answer.destroy();
    address = next;
  }
  throw new FetchFailed(`The address leads on more than ${rules.redirects} times; give the one where the list stands.`);
}

function requireAddress(address: string, rules: FetchRules, hop: number): { url: URL; isOwn: boolean } {
  const checked = checkAddress(address, rules.ownHosts);
  if (checked.ok) return checked;
  throw new FetchFailed(hop === 0 ? checked.problem : `The publisher leads on to another address, and there: ${checked.problem}`);
}

function tooSlow(url: URL, { milliseconds }: FetchRules): FetchFailed {
  return new FetchFailed(`${url.host} took longer than ${Math.round(milliseconds / 1000)} seconds, so the list was not waited for.`);
}

interface Asking {
  readonly url: URL;
  readonly isOwn: boolean;
  readonly request: ListRequest;
  readonly rules: FetchRules;
  readonly deadline: AbortSignal;
}

function ask({ url, isOwn, request, rules, deadline }: Asking): Promise<IncomingMessage> {
  return new Promise((resolve, reject) => {
    const send = url.protocol === "https:" ? secureRequest : plainRequest;
    const { etag, lastModified } = request;
    const headers = {
      "user-agent": "platewarden (recall lists)",
      accept: "application/json, text/csv, application/xml;q=0.9, */*;q=0.5",
      "accept-encoding": "gzip, deflate, br",
      ...(etag === null ? {} : { "if-none-match": etag }),
      ...(lastModified === null ? {} : { "if-modified-since": lastModified }),
    };
    // A connection of its own: one kept open from before was judged by other rules.
    const options = { headers, agent: false as const, signal: deadline, lookup: isOwn ? systemLookup : judgedLookup(rules) };
    send(url, options, resolve).on("error", reject).end();
  });
}

const systemResolve: Resolve = (name, done) => systemLookup(name, { all: true }, done);

/** Resolves a name and gives its addresses only where every one of them is public. */
function judgedLookup({ resolve = systemResolve, isPublic = isPublicAddress }: FetchRules): LookupFunction {
  return (name, options, done) => {
    resolve(name, (error, addresses) => {
      const first = addresses?.[0];
      if (error || !first) done(error ?? new FetchFailed(`${name} has no address.`), "", 0);
      else if (!addresses.every(({ address }) => isPublic(address))) done(new FetchFailed(privateAddress(name)), "", 0);
      else if (options.all) done(null, [...addresses]);
      else done(null, first.address, first.family || isIP(first.address));
    });
  };
}

/** Where the answer leads on to; null where it does not. From https it never leads on to less. */
function redirectOf(answer: IncomingMessage, url: URL): string | null {
  const { statusCode = 0, headers } = answer;
  if (![301, 302, 303, 307, 308].includes(statusCode) || headers.location === undefined) return null;
  const next = URL.canParse(headers.location, url) ? new URL(headers.location, url) : null;
  if (next === null) throw new FetchFailed(`${url.host} leads on to something that is no address (HTTP ${statusCode}).`, statusCode);
  if (url.protocol === "https:" && next.protocol !== "https:")
    throw new FetchFailed(`${url.host} leads on to ${next.host} without encryption, so it was not followed.`, statusCode);
  return next.href;
}

interface Taking extends Omit<Asking, "isOwn"> {
  readonly answer: IncomingMessage;
}

async function takeAnswer({ answer, url, request, rules, deadline }: Taking): Promise<FetchedList> {
  const { statusCode: status = 0, headers } = answer;
  const answered = { answeredBy: url.href, status, etag: headers.etag ?? null, lastModified: headers["last-modified"] ?? null };
  const isConditional = request.etag !== null || request.lastModified !== null;
  if (status !== 200) {
    answer.destroy();
    if (status === 304 && isConditional) return { kind: "unchanged", ...answered };
    throw statusFailure(url.host, status, headers["retry-after"]);
  }
  try {
    return { kind: "list", ...answered, bytes: await readBody(answer, url, rules.bytes, deadline) };
  } catch (error) {
    throw deadline.aborted ? tooSlow(url, rules) : asFetchFailure(error, url.host);
  } finally {
    answer.destroy();
  }
}

async function readBody(answer: IncomingMessage, url: URL, most: number, deadline: AbortSignal): Promise<Buffer> {
  const tooLong = () =>
    new FetchFailed(`The list of ${url.host} is longer than ${Math.floor(most / 1024 / 1024)} MB, so it was not taken.`);
  if (Number(answer.headers["content-length"] ?? 0) > most) throw tooLong();
  const pieces: Buffer[] = [];
  let length = 0;
  const weigh = new Transform({
    transform(piece: Buffer, _encoding, done) {
      length += piece.length;
      if (length <= most) pieces.push(piece);
      done(length > most ? tooLong() : null);
    },
  });
  weigh.resume();
  const open = decompressor(answer, url);
  await (open ? pipeline(answer, open, weigh, { signal: deadline }) : pipeline(answer, weigh, { signal: deadline }));
  return Buffer.concat(pieces);
}

function decompressor(answer: IncomingMessage, url: URL) {
  const encoding = (answer.headers["content-encoding"] ?? "identity").trim().toLowerCase();
  if (encoding === "identity" || encoding === "") return null;
  if (encoding === "gzip" || encoding === "x-gzip") return createGunzip();
  if (encoding === "deflate") return createInflate();
  if (encoding === "br") return createBrotliDecompress();
  throw new FetchFailed(`${url.host} sent the list compressed as "${encoding}", which was not asked for and cannot be read.`);
}
