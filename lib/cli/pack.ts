import { once } from "node:events";
import { writeFile } from "node:fs/promises";
import { parseArgs } from "node:util";
import { commandLineActor } from "@/lib/access/actor";
import { packFileName, readSitePack } from "@/lib/documents/site-pack";
import { sitePackPdf } from "@/lib/documents/site-pack-pdf";
import { sitePackTables } from "@/lib/documents/site-pack-tables";
import { siteDay } from "@/lib/registry/as-of";
import { nameKey } from "@/lib/registry/place-name";
import type { Store } from "@/lib/store/client";
import { type Command, WrongUse } from "./command";
import { withStore } from "./with-store";

const usage = "Use: pack SITE [--day YYYY-MM-DD] [--out FILE.pdf|FILE.zip|-] [--organisation O]; SITE is the site's name or id.";

function readArguments(args: readonly string[]) {
  const text = { type: "string" } as const;
  try {
    const { values, positionals } = parseArgs({
      args: [...args],
      allowPositionals: true,
      options: { day: text, out: text, organisation: text },
    });
    const [site, ...others] = positionals;
    if (site === undefined || others.length > 0) throw new Error("Name one site");
    return { ...values, site };
  } catch (error) {
    throw new WrongUse(`${error instanceof Error ? error.message.split(". ")[0] : "Wrong use"}. ${usage}`);
  }
}

async function findNamedSite(db: Store, name: string, organisation: string | undefined) {
  const where = organisation === undefined ? {} : { organisation: { name: organisation } };
  const sites = await db.site.findMany({ where: { ...where, OR: [{ id: name }, { nameKey: nameKey(name) }] } });
  const [site, ...others] = sites;
  if (!site) throw new WrongUse(`There is no site "${name}". ${usage}`);
  if (others.length > 0) throw new WrongUse(`Several organisations have a site "${name}": name one with --organisation.`);
  return site;
}

async function put(target: string, bytes: Uint8Array | string): Promise<void> {
  if (target !== "-") {
    await writeFile(target, bytes, { mode: 0o600 });
    process.stderr.write(`Written to ${target}.\n`);
  } else if (!process.stdout.write(bytes)) await once(process.stdout, "drain");
}

/**
 * `pack`: writes the pack of a site for a day, as PDF or, by the file's name, its tables as CSV in a ZIP archive. The same data gives the same bytes. Progress goes
 * to standard error.
 */
export const packCommand: Command = async (args) => {
  const { site: name, day: asked, out, organisation } = readArguments(args);
  const now = new Date();
  await withStore(async (db) => {
    const site = await findNamedSite(db, name, organisation);
    const day = asked ?? siteDay(site.timeZone, now);
    const pack = await readSitePack(db, commandLineActor(site.organisationId), { siteId: site.id, day, now });
    const target = out ?? packFileName(site.name, day, "pdf");
    if (target.toLowerCase().endsWith(".zip")) return put(target, sitePackTables(pack));
    const pdf = await sitePackPdf(pack, async (done, total) => {
      if (process.stderr.isTTY) process.stderr.write(`\r${done} of ${total} rows`);
      return false;
    });
    if (process.stderr.isTTY) process.stderr.write("\n");
    if (pdf) await put(target, pdf.bytes);
  });
  return 0;
};
