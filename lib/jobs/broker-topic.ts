import { createHash } from "node:crypto";
import { Trouble } from "@/lib/access/trouble";

/** Shares of the work that workers divide among themselves. A site always belongs to the same one. */
export const partitions = 16;

/** The topic's beginning unless told otherwise. */
export const usualTopic = "platewarden";

/** The partition of a site, 0 to `partitions` - 1: the first bytes of its id's SHA-256, so that it never changes. */
export function partitionOf(siteId: string): number {
  return createHash("sha256").update(siteId).digest().readUInt32BE(0) % partitions;
}

/** Throws `Trouble` where a topic's beginning has wildcards or empty levels. */
export function requireTopic(text: string): string {
  const topic = text.trim().replace(/\/$/, "");
  if (topic !== "" && !/[+#\p{Cc}]/u.test(topic) && topic.split("/").every((level) => level !== "")) return topic;
  throw new Trouble("not_valid", `"${text.slice(0, 80)}" cannot begin a topic: name levels without + and #, such as ${usualTopic}.`);
}

/** The topic a site's devices publish to: `BEGINNING/ORGANISATION/SITE/readings`, both by their ids. */
export function siteTopic(beginning: string, site: { readonly organisationId: string; readonly id: string }): string {
  return `${beginning}/${site.organisationId}/${site.id}/readings`;
}

/** The organisation and site that a topic names; null when it is none of ours. */
export function readTopic(beginning: string, topic: string): { readonly organisationId: string; readonly siteId: string } | null {
  if (!topic.startsWith(`${beginning}/`)) return null;
  const [organisationId, siteId, last, ...more] = topic.slice(beginning.length + 1).split("/");
  if (!organisationId || !siteId || last !== "readings" || more.length > 0) return null;
  return { organisationId, siteId };
}
