/** A list could not be fetched: one sentence what happened and, where there is something to do, how to mend it. */
export class FetchFailed extends Error {
  override readonly name = "FetchFailed";

  constructor(
    sentence: string,
    /** The HTTP status that was answered; null where none was. */
    readonly status: number | null = null,
    /** When the publisher asked to be asked again, in seconds from now. */
    readonly retryAfterSeconds: number | null = null,
  ) {
    super(sentence);
  }
}

const byCode: Readonly<Record<string, string>> = {
  ENOTFOUND: "is not known to the name service; check the address",
  EAI_AGAIN: "could not be looked up, because the name service does not answer",
  ECONNREFUSED: "refuses connections",
  ECONNRESET: "broke the connection off, so the list came in part only",
  EHOSTUNREACH: "cannot be reached from here",
  ENETUNREACH: "cannot be reached from here",
  ETIMEDOUT: "does not answer",
  EPIPE: "broke the connection off",
  CERT_HAS_EXPIRED: "has a certificate that has run out",
  ERR_TLS_CERT_ALTNAME_INVALID: "shows a certificate for another name",
  DEPTH_ZERO_SELF_SIGNED_CERT: "shows a certificate that nobody vouches for",
  SELF_SIGNED_CERT_IN_CHAIN: "shows a certificate that nobody vouches for",
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: "shows a certificate that nobody vouches for",
  Z_BUF_ERROR: "sent a compressed list that was cut off",
  Z_DATA_ERROR: "sent a compressed list that is damaged",
};

/** Any error of asking `host` as one that a person can read. */
export function asFetchFailure(error: unknown, host: string): FetchFailed {
  if (error instanceof FetchFailed) return error;
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  const said = byCode[code] ?? `could not be asked (${code || (error instanceof Error ? error.message : String(error))})`;
  return new FetchFailed(`${host} ${said}.`);
}

/** The failure that an answer's status stands for. */
export function statusFailure(host: string, status: number, retryAfter: string | undefined): FetchFailed {
  const seconds = retryAfter !== undefined && /^\d{1,7}$/.test(retryAfter.trim()) ? Number(retryAfter) : null;
  const meaning =
    status === 404 || status === 410
      ? "has nothing at this address; the publisher may have moved the list"
      : status === 401 || status === 403
        ? "does not give the list to us; check the address"
        : status === 429
          ? "asks to be asked less often"
          : "could not give the list";
  return new FetchFailed(`${host} ${meaning} (HTTP ${status}).`, status, seconds);
}
