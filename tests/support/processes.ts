import { spawn } from "node:child_process";
import { join } from "node:path";
import { createInterface } from "node:readline";

const root = join(import.meta.dirname, "../..");

interface Started {
  readonly go: () => void;
  readonly answer: Promise<string>;
}

/** Starts a script of tests/support; resolves when it says that it is ready, and waits with its work until `go`. */
async function start(script: string, args: readonly string[]): Promise<Started> {
  const child = spawn(process.execPath, ["--import", "tsx", join(root, "tests/support", script), ...args], {
    cwd: root,
    stdio: ["pipe", "pipe", "pipe"],
  });
  const lines: string[] = [];
  let errors = "";
  child.stderr.on("data", (chunk: Buffer) => {
    errors += chunk.toString();
  });
  const ended = new Promise<number>((resolve) => child.on("close", (code) => resolve(code ?? 1)));
  const ready = new Promise<void>((resolve) => {
    createInterface({ input: child.stdout }).on("line", (line) => {
      lines.push(line);
      if (line === "ready") resolve();
    });
  });
  await Promise.race([
    ready,
    ended.then((code) => Promise.reject(new Error(`${script} ended with ${code} before it was ready: ${errors}`))),
  ]);
  const answer = ended.then((code) => {
    if (code !== 0) throw new Error(`${script} ended with ${code}: ${errors}`);
    return lines.at(-1) ?? "";
  });
  return { go: () => child.stdin.write("go\n"), answer };
}

/** Runs the script once for each list of arguments, all beginning at the same moment; returns the last line each printed. */
export async function runTogether(script: string, argumentLists: readonly (readonly string[])[]): Promise<string[]> {
  const started = await Promise.all(argumentLists.map((args) => start(script, args)));
  for (const { go } of started) go();
  return Promise.all(started.map(({ answer }) => answer));
}
