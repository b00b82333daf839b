import { once } from "node:events";
import { createReadStream, createWriteStream } from "node:fs";
import { createInterface } from "node:readline";
import { parseArgs } from "node:util";
import type { Store } from "@/lib/store/client";
import { headText, parseHead, type RecordHead } from "@/lib/store/record-head";
import { verifyLines } from "@/lib/store/verify-lines";
import { type RecordVerdict, recordLines, verifyRecord } from "@/lib/store/verify-record";
import { type Command, WrongUse } from "./command";
import { withStore } from "./with-store";

const usage =
  "Use: verify [--organisation O] [--head NUMBER:HASH] [--export F], or verify --file F [--head NUMBER:HASH] for an exported record.";

function sentence(name: string, { entries, broken, lastHash }: RecordVerdict, head: RecordHead | null): string {
  if (broken) return `${name}: BROKEN at entry ${broken.number}: ${broken.why}. The ${entries} entries before it are as they were written.`;
  const kept = head ? `, and the end written down earlier, entry ${head.number}, is among them` : "";
  return `${name}: whole, ${entries} entries${kept}; its end is ${headText({ number: entries, hash: lastHash })}`;
}

function readArguments(args: readonly string[]) {
  const text = { type: "string" } as const;
  try {
    const { values } = parseArgs({ args: [...args], options: { organisation: text, head: text, export: text, file: text } });
    if (values.file !== undefined && (values.export !== undefined || values.organisation !== undefined))
      throw new Error("--file stands alone");
    const head = values.head === undefined ? null : parseHead(values.head);
    if (values.head !== undefined && head === null) throw new Error("--head is NUMBER:HASH, as an earlier check or export printed it");
    return { ...values, head };
  } catch (error) {
    throw new WrongUse(`${error instanceof Error ? error.message.split(". ")[0] : "Wrong use"}. ${usage}`);
  }
}

async function writeExport(db: Store, organisationId: string, file: string): Promise<void> {
  const out = file === "-" ? process.stdout : createWriteStream(file, { mode: 0o600 });
  for await (const line of recordLines(db, organisationId)) if (!out.write(line)) await once(out, "drain");
  if (file !== "-") {
    out.end();
    await once(out, "close");
  }
}

async function verifyFile(file: string, head: RecordHead | null): Promise<string> {
  const input = file === "-" ? process.stdin : createReadStream(file);
  if (file !== "-")
    await once(input, "ready").catch((error: unknown) => {
      throw new WrongUse(`${file} cannot be read: ${error instanceof Error ? error.message : String(error)}.`);
    });
  return sentence(file, await verifyLines(createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY }), head), head);
}

async function organisationsOf(db: Store, name: string | undefined) {
  const organisations = await db.organisation.findMany({ where: name === undefined ? {} : { name }, orderBy: { name: "asc" } });
  if (name !== undefined && organisations.length === 0) throw new WrongUse(`There is no organisation "${name}".`);
  return organisations;
}

/**
 * `verify`: recomputes every hash of each organisation's record and says whether it is whole, and where not. `--head`, written down
 * from an earlier run, also finds an end that was cut off and a record rewritten with new hashes. `--export F` writes one
 * organisation's record as JSON Lines; `--file F` verifies such a file, without any database.
 */
export const verifyCommand: Command = async (args) => {
  const { organisation, head, export: target, file } = readArguments(args);
  if (file !== undefined) {
    process.stdout.write(`${await verifyFile(file, head)}\n`);
    return 0;
  }
  const lines = await withStore(async (db) => {
    const organisations = await organisationsOf(db, organisation);
    const [only, ...others] = organisations;
    if ((head || target !== undefined) && others.length > 0)
      throw new WrongUse("There are several organisations, each with a record of its own: name one with --organisation.");
    if (only && target !== undefined) await writeExport(db, only.id, target);
    const said: string[] = [];
    for (const { id, name } of organisations) said.push(sentence(name, await verifyRecord(db, id, head), head));
    return said;
  });
  const out = target === "-" ? process.stderr : process.stdout;
  out.write(`${lines.length > 0 ? lines.join("\n") : "There is no organisation yet, so there is no record."}\n`);
  return 0;
};
