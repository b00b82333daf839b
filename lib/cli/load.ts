import { createReadStream, statSync } from "node:fs";
import { basename } from "node:path";
import { parseArgs } from "node:util";
import { type Actor, commandLineActor } from "@/lib/access/actor";
import { chooseOrganisation } from "@/lib/registry/first-organisation";
import { accountLine } from "@/lib/registry/import-account";
import { firstSetAside } from "@/lib/registry/import-list";
import type { Store } from "@/lib/store/client";
import { type Command, WrongUse } from "./command";
import { type LoadAccount, type Loader, type LoadProgress, loaderOf, loadKinds } from "./load-kinds";
import { withStore } from "./with-store";

const usage = `Use: load ${loadKinds.join("|")} FILE [--organisation NAME]; FILE may be - for standard input.`;

interface LoadArguments {
  readonly kind: string;
  readonly file: string;
  readonly organisation: string | null;
}

function readArguments(args: readonly string[]): LoadArguments {
  try {
    const { values, positionals } = parseArgs({ args: [...args], allowPositionals: true, options: { organisation: { type: "string" } } });
    const [kind, file, ...more] = positionals;
    if (kind === undefined || file === undefined || more.length > 0) throw new WrongUse(`load needs what to load and one file. ${usage}`);
    return { kind, file, organisation: values.organisation ?? null };
  } catch (error) {
    if (error instanceof WrongUse) throw error;
    throw new WrongUse(`${error instanceof Error ? error.message.split(". ")[0] : "Wrong use"}. ${usage}`);
  }
}

function openFile(file: string) {
  if (file === "-") return { source: process.stdin, fileName: "standard input", byteLength: null };
  try {
    const stat = statSync(file);
    if (stat.isDirectory()) throw new WrongUse(`${file} is a folder: give the path of a file.`);
    return { source: createReadStream(file, { highWaterMark: 256 * 1024 }), fileName: basename(file), byteLength: stat.size };
  } catch (error) {
    if (error instanceof WrongUse) throw error;
    throw new WrongUse(
      `${file} cannot be read (${(error as NodeJS.ErrnoException).code ?? String(error)}): give the path of a file that exists.`,
    );
  }
}

/** Shows how far it is on a terminal, in one line that is written over. */
function progressShower(byteLength: number | null): ((progress: LoadProgress) => void) | null {
  if (!process.stderr.isTTY) return null;
  return ({ counts, bytesDone, done }) => {
    const share = byteLength && bytesDone !== undefined ? `, ${Math.floor((100 * bytesDone) / byteLength)} % of the file` : "";
    process.stderr.write(`\r${counts?.rowsRead ?? done ?? 0} rows${share} `);
  };
}

const reasonsShown = 20;

/** Says why rows stayed outside: the first of them here, all of them in the run. */
async function saySetAside(db: Store, actor: Actor, { id, setAside }: LoadAccount): Promise<void> {
  const rows = await firstSetAside(db, actor, { runId: id, take: reasonsShown, now: new Date() });
  for (const { line, reason } of rows) process.stderr.write(`line ${line}: ${reason}\n`);
  if (setAside > rows.length) process.stderr.write(`and ${setAside - rows.length} more: run ${id} under "Bring in" has all of them.\n`);
}

async function carryOut(db: Store, actor: Actor, load: Loader, file: string): Promise<0 | 1> {
  const { source, fileName, byteLength } = openFile(file);
  const onProgress = progressShower(byteLength);
  const account = await load.load(db, actor, { source, fileName, byteLength, now: new Date(), ...(onProgress ? { onProgress } : {}) });
  if (onProgress) process.stderr.write("\r\u001b[K");
  process.stdout.write(`${accountLine(load.kind, account, account.message)}\n`);
  if (account.setAside > 0) await saySetAside(db, actor, account);
  return account.setAside > 0 ? 1 : 0;
}

/** `load labels|places|notices|log FILE`: brings a file into the registry and prints the account of its rows as one line. */
export const loadCommand: Command = async (args) => {
  const { kind, file, organisation } = readArguments(args);
  const load = await loaderOf(kind);
  if (!load) throw new WrongUse(`load cannot load "${kind}". ${usage}`);
  return withStore(async (db) => {
    const { id, isNew, name } = await chooseOrganisation(db, organisation, new Date());
    if (isNew) process.stderr.write(`There was no organisation yet, so "${name}" was made.\n`);
    return carryOut(db, commandLineActor(id), load, file);
  });
};
