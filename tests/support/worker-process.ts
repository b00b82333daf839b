import { type ChildProcess, spawn } from "node:child_process";
import { join } from "node:path";

const root = join(import.meta.dirname, "../..");

/** The command `worker`, as a process of its own that can be told to end, or be killed. */
export interface Running {
  readonly child: ChildProcess;
  /** What it has written to standard error. */
  readonly said: () => string;
  readonly runs: Promise<void>;
  readonly ended: Promise<number | null>;
}

export function startWorker(env: Record<string, string>, args: readonly string[] = []): Running {
  const command = ["--import", "tsx", join(root, "lib/cli/main.ts"), "worker", ...args];
  const child = spawn(process.execPath, command, { cwd: root, env: { ...process.env, ...env }, stdio: ["ignore", "ignore", "pipe"] });
  let errors = "";
  const runs = new Promise<void>((resolve) => {
    child.stderr?.on("data", (piece: Buffer) => {
      errors += piece.toString();
      if (errors.includes("The worker runs: jobs and schedules")) resolve();
    });
  });
  return { child, said: () => errors, runs, ended: new Promise((resolve) => child.on("close", resolve)) };
}
