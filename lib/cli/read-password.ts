import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { Writable } from "node:stream";
import { WrongUse } from "./command";

const firstLine = (text: string) => text.split(/\r?\n/, 1)[0] ?? "";

/** A password from a file's first line (`-` is standard input), from piped standard input, or asked for without showing it. */
export async function readPassword(file: string | undefined): Promise<string> {
  if (file !== undefined && file !== "-") return fromFile(file);
  if (file === "-" || !process.stdin.isTTY) return fromPipe();
  return ask("Password (not shown): ");
}

function fromFile(file: string): string {
  try {
    return firstLine(readFileSync(file, "utf8"));
  } catch {
    throw new WrongUse(`The password file ${file} cannot be read: give the path of a file with the password on its first line.`);
  }
}

async function fromPipe(): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk as Buffer);
  return firstLine(Buffer.concat(chunks).toString("utf8"));
}

async function ask(question: string): Promise<string> {
  const silent = new Writable({ write: (_chunk, _encoding, done) => done() });
  const line = createInterface({ input: process.stdin, output: silent, terminal: true });
  process.stderr.write(question);
  try {
    return await new Promise<string>((resolve) => line.question("", resolve));
  } finally {
    line.close();
    process.stderr.write("\n");
  }
}
