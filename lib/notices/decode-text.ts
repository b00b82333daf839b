/**
 * Bytes of a published list -> text, whatever encoding its publisher or a spreadsheet left it in: UTF-8 with or without
 * a byte order mark, UTF-16 of either order, else Windows-1252 (the superset of Latin-1 that browsers assume, WHATWG
 * Encoding Standard). Never fails: each byte sequence has a reading.
 */
export function decodeText(bytes: Uint8Array): string {
  const utf16 = utf16Order(bytes);
  if (utf16) return withoutMark(new TextDecoder(utf16).decode(bytes));
  try {
    return withoutMark(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    return decodeWindows1252(bytes);
  }
}

/** What Windows-1252 has at 0x80 to 0x9F (WHATWG Encoding Standard, index windows-1252). Some runtimes decode these as Latin-1. */
const windows1252 = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

function decodeWindows1252(bytes: Uint8Array): string {
  return new TextDecoder("latin1").decode(bytes).replace(/[\u0080-\u009f]/g, fromWindows1252);
}

/** A control character of the upper half as the character Windows-1252 has in its place. */
export function fromWindows1252(character: string): string {
  return windows1252[character.charCodeAt(0) - 0x80] ?? character;
}

/** Drops a byte order mark that survived as a character. */
export function withoutMark(text: string): string {
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}

/** A mark decides; without one, text of a western list in UTF-16 has a zero in nearly every other byte. */
function utf16Order(bytes: Uint8Array): "utf-16le" | "utf-16be" | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf-16le";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "utf-16be";
  const sample = bytes.subarray(0, 400);
  const zeros = [0, 0];
  sample.forEach((byte, at) => {
    if (byte === 0) zeros[at % 2] = (zeros[at % 2] ?? 0) + 1;
  });
  const many = sample.length / 2 / 2;
  const [even = 0, odd = 0] = zeros;
  if (sample.length >= 8 && odd > many && even === 0) return "utf-16le";
  if (sample.length >= 8 && even > many && odd === 0) return "utf-16be";
  return null;
}
