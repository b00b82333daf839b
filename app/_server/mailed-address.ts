import { publicUrl } from "@/lib/access/public-url";
import { Trouble } from "@/lib/access/trouble";

/**
 * The address of a page as a mail gives it. It rests on the public address alone, never on what a request says its host is: a
 * stranger could have a link mailed that leads elsewhere. Throws `Trouble` when no public address is set.
 */
export function mailedAddress(path: string): string {
  const home = publicUrl();
  if (home === null)
    throw new Trouble(
      "not_allowed_now",
      "Links cannot be mailed until PLATEWARDEN_URL says what this service's address is: ask an administrator.",
    );
  return `${home}${path}`;
}
