import { type IncomingMessage, Server } from "node:http";
import { peerAddressHeader } from "@/lib/access/sign-in";

const shared = globalThis as typeof globalThis & { platewardenPeersMarked?: true };

/** How many proxies of our own stand in front; each has appended the address it saw to x-forwarded-for. */
function trustedProxies(): number {
  const given = process.env["PLATEWARDEN_TRUSTED_PROXIES"] ?? "0";
  if (/^\d$/.test(given)) return Number(given);
  throw new Error(`PLATEWARDEN_TRUSTED_PROXIES must be a number from 0 to 9; it is "${given}".`);
}

/** The address a request comes from: the socket's, or behind N trusted proxies the N-th from the right, never what a client wrote. */
export function peerAddress(socketAddress: string | undefined, forwardedFor: string | undefined, proxies: number): string {
  const socket = socketAddress ?? "0.0.0.0";
  if (proxies === 0) return socket;
  const chain = (forwardedFor ?? "").split(",").map((part) => part.trim());
  return chain.at(-proxies) || socket;
}

/**
 * Writes the address of the other end into a header of our own before anything else sees the request, over whatever the client
 * sent under that name. The framework hands the socket's address to nobody, and keeps a client's x-forwarded-for as it came.
 */
export function markPeers(): void {
  if (shared.platewardenPeersMarked) return;
  shared.platewardenPeersMarked = true;
  const proxies = trustedProxies();
  const emit = Reflect.get(Server.prototype, "emit") as (event: string | symbol, ...args: unknown[]) => boolean;
  Server.prototype.emit = function (this: Server, event: string | symbol, ...args: unknown[]): boolean {
    if (event === "request") markRequest(args[0] as IncomingMessage, proxies);
    return Reflect.apply(emit, this, [event, ...args]);
  };
}

function markRequest(request: IncomingMessage, proxies: number): void {
  const forwarded = request.headers["x-forwarded-for"];
  const chain = Array.isArray(forwarded) ? forwarded.join(",") : forwarded;
  request.headers[peerAddressHeader] = peerAddress(request.socket.remoteAddress, chain, proxies);
}
