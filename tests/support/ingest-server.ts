import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { Agent, request } from "node:http";
import { join } from "node:path";
import { createInterface } from "node:readline";

const root = join(import.meta.dirname, "../..");

/** A process that takes readings in, and can be killed. */
export interface IngestServer {
  readonly port: number;
  readonly child: ChildProcess;
  /** Ends it the hard way. */
  readonly kill: () => Promise<void>;
}

/** Starts a process of its own on this database. */
export async function startIngest(databaseUrl: string): Promise<IngestServer> {
  // The loader is a module of that process, not a parent of it: the signal reaches what does the work.
  const child = spawn(process.execPath, ["--import", "tsx", join(root, "tests/support/ingest-process.ts")], {
    cwd: root,
    env: { ...process.env, DATABASE_URL: databaseUrl },
    stdio: ["ignore", "pipe", "inherit"],
  });
  const ended = once(child, "exit");
  const port = await new Promise<number>((resolve, reject) => {
    createInterface({ input: child.stdout }).on("line", (line) => {
      if (line.startsWith("ready ")) resolve(Number(line.slice(6)));
    });
    void ended.then(([code]) => reject(new Error(`The ingest process ended with ${code} before it was ready.`)));
  });
  const kill = async () => {
    child.kill("SIGKILL");
    await ended;
  };
  return { port, child, kill };
}

export interface Sending {
  readonly port: number;
  readonly token: string;
  readonly body: string;
  readonly batchId?: string;
  readonly agent?: Agent;
  readonly path?: string;
}

export interface Sent {
  readonly status: number;
  readonly answer: { readonly accepted: number; readonly repeated: number; readonly setAside: number; readonly rows: number };
}

/** Sends one batch; rejects when the connection breaks before the answer is whole. */
export function sendBatch({ port, token, body, batchId, agent, path = "/" }: Sending): Promise<Sent> {
  return new Promise((resolve, reject) => {
    const headers = { authorization: `Bearer ${token}`, ...(batchId === undefined ? {} : { "idempotency-key": batchId }) };
    const sent = request({ port, path, host: "127.0.0.1", method: "POST", headers, ...(agent ? { agent } : {}) }, (response) => {
      const pieces: Buffer[] = [];
      response.on("data", (piece: Buffer) => pieces.push(piece));
      response.on("error", reject);
      response.on("end", () => {
        if (!response.complete) return reject(new Error("The answer broke off."));
        resolve({ status: response.statusCode ?? 0, answer: JSON.parse(Buffer.concat(pieces).toString("utf8")) as Sent["answer"] });
      });
    });
    sent.on("error", reject);
    sent.end(body);
  });
}

/** Connections that stay open from batch to batch. */
export const keptOpen = (most: number) => new Agent({ keepAlive: true, maxSockets: most });
