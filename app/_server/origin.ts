import { publicUrl } from "@/lib/access/public-url";

/**
 * The origins a change may come from: the public address, and the host that the request itself was sent to. A page of another
 * site has its own origin and cannot choose the Host header that the browser sends us, so neither lets it in.
 */
export function trustedOrigins(headers: Headers | undefined): string[] {
  const host = headers?.get("host");
  const own = host ? [`http://${host}`, `https://${host}`] : [];
  const configured = publicUrl();
  return configured ? [configured, ...own] : own;
}

/** True when a request that changes something names one of our own origins. Browsers send Origin with every such request. */
export function isSameOrigin(headers: Headers): boolean {
  const origin = headers.get("origin");
  return origin !== null && trustedOrigins(headers).includes(origin);
}
