import ipaddr from "ipaddr.js";

/**
 * Whether an address is one of the public internet: none of the special-purpose addresses of RFC 6890 and its registries (among them
 * RFC 1918 private, RFC 6598 shared, RFC 3927 and RFC 4291 link-local, RFC 4193 unique local, loopback, documentation, multicast
 * and reserved ones), also when it is wrapped in an IPv6 address (mapped, 6to4, NAT64), and for IPv6 inside 2000::/3, the only
 * block that IANA has given out for global unicast. What is no address is not public.
 */
export function isPublicAddress(text: string): boolean {
  if (!ipaddr.isValid(text)) return false;
  const address = ipaddr.process(text);
  if (address.range() !== "unicast") return false;
  return address.kind() === "ipv4" || address.match(ipaddr.parseCIDR("2000::/3"));
}

/** The setting that names hosts of one's own. */
export const ownHostsSetting = "PLATEWARDEN_LIST_HOSTS";

/**
 * Hosts of one's own that may serve lists without encryption and from private addresses, as `host` or `host:port`, separated by
 * commas. Empty unless whoever runs the product names some.
 */
export function ownHosts(text: string | undefined): ReadonlySet<string> {
  const hosts = (text ?? "").split(",").map((host) => host.trim().toLowerCase());
  return new Set(hosts.filter((host) => host !== ""));
}

/** A list's address that may be asked, or one sentence why not. */
export type CheckedAddress =
  | { readonly ok: true; readonly url: URL; readonly isOwn: boolean }
  | { readonly ok: false; readonly problem: string };

const longest = 2_000;

/** Judges the text of an address before anything is asked; names are judged again when they are resolved. */
export function checkAddress(text: string, own: ReadonlySet<string>): CheckedAddress {
  const no = (problem: string) => ({ ok: false, problem }) as const;
  if (text.length > longest) return no(`The address is longer than ${longest} characters; give a shorter one.`);
  const url = URL.canParse(text) ? new URL(text) : null;
  if (url === null) return no("This is no web address; give the whole address of the list, beginning with https://.");
  if (own.has(url.host) && /^https?:$/.test(url.protocol)) return { ok: true, url, isOwn: true };
  if (url.protocol !== "https:") return no("Lists are fetched over https:// only; give such an address.");
  if (url.username !== "" || url.password !== "")
    return no("The address holds a user name or password; give one without, since it is shown to others.");
  const host = url.hostname.replace(/^\[|\]$/g, "");
  if (ipaddr.isValid(host) && !isPublicAddress(host)) return no(privateAddress(host));
  if (/^localhost\.?$|\.(?:localhost|local|internal)\.?$/i.test(host)) return no(privateAddress(host));
  return { ok: true, url, isOwn: false };
}

/** The sentence for an address that leads into one's own network. */
export function privateAddress(host: string): string {
  return `${host} leads to a private or reserved address, and lists are fetched from the public internet only; give the publisher's own address.`;
}
