/** A random id (RFC 9562, version 4) for a form. Made here, since `crypto.randomUUID` is missing where a house serves without https. */
export function newFormId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const hex = [...bytes].map((byte, place) => {
    if (place === 6) return 0x40 | (byte & 0x0f);
    return place === 8 ? 0x80 | (byte & 0x3f) : byte;
  });
  const text = hex.map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [text.slice(0, 8), text.slice(8, 12), text.slice(12, 16), text.slice(16, 20), text.slice(20)].join("-");
}
