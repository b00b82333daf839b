/** The address people use, from PLATEWARDEN_URL; null when it is not set. Throws with a sentence when it is no web address. */
export function publicUrl(): string | null {
  const given = process.env["PLATEWARDEN_URL"];
  if (!given) return null;
  const url = URL.canParse(given) ? new URL(given) : null;
  if (!url || !/^https?:$/.test(url.protocol))
    throw new Error(`PLATEWARDEN_URL must be a web address such as https://host; it is "${given}".`);
  return url.origin;
}
