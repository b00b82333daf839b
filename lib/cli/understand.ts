import { readFile, writeFile } from "node:fs/promises";
import { parseArgs } from "node:util";
import { readNoticeList } from "@/lib/notices/read-list";
import { understand } from "@/lib/notices/understand";
import { type Command, WrongUse } from "./command";

const usage = "Use: understand NOTICES [--out F], where NOTICES is a recall list and - is standard input or output.";

/** `understand NOTICES [--out F]`: a recall list -> one coverage line a record, in list order. No database. */
export const understandCommand: Command = async (args) => {
  const { from, to } = readArguments(args);
  const list = readNoticeList(await readInput(from));
  if (!list.ok) throw new WrongUse(`${from === "-" ? "Standard input" : from}: ${list.problem}`);
  const lines = list.notices.map((notice) => `${JSON.stringify(understand(notice), openEnds)}\n`).join("");
  if (to === "-") await writeOut(lines);
  else await writeTo(to, lines);
  for (const { reason } of list.setAside) process.stderr.write(`Set aside: ${reason}\n`);
  return list.setAside.length === 0 ? 0 : 1;
};

/** The open end of a window over codes is empty inside; written out it is null, as that of a manufacture window. */
function openEnds(key: string, value: unknown): unknown {
  return (key === "from" || key === "to") && value === "" ? null : value;
}

function readArguments(args: readonly string[]): { from: string; to: string } {
  try {
    const { values, positionals } = parseArgs({ args: [...args], allowPositionals: true, options: { out: { type: "string" } } });
    const [from, ...more] = positionals;
    if (from === undefined || more.length > 0) throw new WrongUse(usage);
    return { from, to: values.out ?? "-" };
  } catch (error) {
    throw error instanceof WrongUse ? error : new WrongUse(usage);
  }
}

async function readInput(path: string): Promise<Uint8Array> {
  try {
    return path === "-" ? await readStandardInput() : await readFile(path);
  } catch (error) {
    throw new WrongUse(`The recall list ${path} cannot be read (${codeOf(error)}); check the path and the rights.`);
  }
}

async function readStandardInput(): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  for await (const part of process.stdin as AsyncIterable<Uint8Array>) parts.push(part);
  return Buffer.concat(parts);
}

async function writeTo(path: string, text: string): Promise<void> {
  try {
    await writeFile(path, text);
  } catch (error) {
    throw new WrongUse(`The coverage cannot be written to ${path} (${codeOf(error)}); check the folder and the rights.`);
  }
}

/** Waits until the whole text has left, also through a slow pipe; a reader that closes the pipe early has seen enough. */
function writeOut(text: string): Promise<void> {
  return new Promise((done, failed) => {
    const ended = (error?: Error | null) => (error && !("code" in error && error.code === "EPIPE") ? failed(error) : done());
    process.stdout.once("error", ended);
    process.stdout.write(text, ended);
  });
}

function codeOf(error: unknown): string {
  return error instanceof Error && "code" in error ? String(error.code) : String(error);
}
