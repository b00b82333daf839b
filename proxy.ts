import { type NextRequest, NextResponse } from "next/server";

/** The request header in which a page learns its own address. */
const pathHeader = "x-platewarden-path";
const isDevelopment = process.env.NODE_ENV === "development";

/** Scripts and style sheets need the nonce; style attributes (a bar's length) do not run anything and are allowed. */
function contentPolicy(nonce: string): string {
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${isDevelopment ? " 'unsafe-eval'" : ""}`,
    `style-src-elem 'self' ${isDevelopment ? "'unsafe-inline'" : `'nonce-${nonce}'`}`,
    "style-src-attr 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; ");
}

const securityHeaders: Readonly<Record<string, string>> = {
  "x-content-type-options": "nosniff",
  "x-frame-options": "DENY",
  "referrer-policy": "same-origin",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "permissions-policy": "camera=(self), geolocation=(), microphone=(), payment=(), usb=()",
};

export function proxy(request: NextRequest): NextResponse {
  const nonce = btoa(crypto.randomUUID());
  const policy = contentPolicy(nonce);
  const headers = new Headers(request.headers);
  headers.set("x-nonce", nonce);
  headers.set("content-security-policy", policy);
  headers.set(pathHeader, `${request.nextUrl.pathname}${request.nextUrl.search}`);
  const response = NextResponse.next({ request: { headers } });
  response.headers.set("content-security-policy", policy);
  for (const [name, value] of Object.entries(securityHeaders)) response.headers.set(name, value);
  if (process.env["PLATEWARDEN_URL"]?.startsWith("https://")) {
    response.headers.set("strict-transport-security", "max-age=31536000; includeSubDomains");
  }
  return response;
}

/** Built files, uploads and readings are left out: a body that passes through here would be cut at 10 MB without an error. */
export const config = { matcher: ["/((?!_next/static|_next/image|favicon.ico|api/v1/uploads|api/v1/readings).*)"] };
