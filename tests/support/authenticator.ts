import { createHmac } from "node:crypto";

function fromBase32(text: string): Buffer {
  const bits = [...text.replace(/=+$/, "")]
    .map((letter) => "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".indexOf(letter).toString(2).padStart(5, "0"))
    .join("");
  return Buffer.from((bits.match(/.{8}/g) ?? []).map((byte) => Number.parseInt(byte, 2)));
}

/** A code as an authenticator computes it: RFC 6238 over RFC 4226, SHA-1, steps of 30 seconds. */
export function totp(secret: Buffer, atMs: number, digits = 6): string {
  const counter = Buffer.alloc(8);
  counter.writeBigUInt64BE(BigInt(Math.floor(atMs / 30_000)));
  const mac = createHmac("sha1", secret).update(counter).digest();
  const offset = (mac.at(-1) ?? 0) & 15;
  return String((mac.readUInt32BE(offset) & 0x7fff_ffff) % 10 ** digits).padStart(digits, "0");
}

/** The secret in an `otpauth:` address. */
export function secretOf(address: string): Buffer {
  return fromBase32(new URL(address).searchParams.get("secret") ?? "");
}

/** The secret as the page shows it, in base 32. */
export function secretOfText(text: string): Buffer {
  return fromBase32(text.trim());
}
