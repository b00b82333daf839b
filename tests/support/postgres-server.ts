import { execFileSync, spawnSync } from "node:child_process";
import { chmodSync, chownSync, existsSync, mkdtempSync, readdirSync, rmSync, statfsSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

const installedUnder = "/usr/lib/postgresql";

/** The folder with `initdb` and `pg_ctl` of the newest installed server, or null where there is none. */
export function serverBinaries(): string | null {
  if (!existsSync(installedUnder)) return null;
  const newest = readdirSync(installedUnder).sort((a, b) => Number(b) - Number(a))[0];
  const folder = newest ? join(installedUnder, newest, "bin") : "";
  return existsSync(join(folder, "initdb")) ? folder : null;
}

async function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer().listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() => (address && typeof address === "object" ? resolve(address.port) : reject(new Error("no port"))));
    });
  });
}

/** PostgreSQL refuses to run as root, so root hands the work to the package's own account. */
function asServerAccount(command: string, args: readonly string[]): void {
  const root = process.getuid?.() === 0;
  const [file, list] = root ? ["runuser", ["-u", "postgres", "--", command, ...args]] : [command, [...args]];
  const run = spawnSync(file, list, { encoding: "utf8", stdio: ["ignore", "ignore", "pipe"] });
  if (run.status !== 0) throw new Error(`${command} failed: ${run.stderr}`);
}

const memory = "/dev/shm";
const roomNeeded = 4 * 2 ** 30;

/** A folder in memory where there is one with room: a database is copied for each test, file by file, 25 times as fast as on a disk. */
function parentFolder(): string {
  if (!existsSync(memory)) return tmpdir();
  const { bavail, bsize } = statfsSync(memory);
  return bavail * bsize >= roomNeeded ? memory : tmpdir();
}

/** Starts a throwaway server on a free port; `stop` ends it and removes its folder. */
export async function startThrowawayServer(): Promise<{ url: string; stop: () => void }> {
  const binaries = serverBinaries();
  if (!binaries) throw new Error("PostgreSQL is not installed: apt-get install postgresql");
  const folder = mkdtempSync(join(parentFolder(), "pw-pg-"));
  chmodSync(folder, 0o755);
  if (process.getuid?.() === 0) {
    const [uid, gid] = ["-u", "-g"].map((flag) => Number(execFileSync("id", [flag, "postgres"], { encoding: "utf8" })));
    chownSync(folder, uid ?? 0, gid ?? 0);
  }
  const data = join(folder, "data");
  const port = await freePort();
  asServerAccount(join(binaries, "initdb"), ["-D", data, "-U", "postgres", "-A", "trust", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8"]);
  const options = `-k ${folder} -h 127.0.0.1 -p ${port} -c fsync=off -c max_connections=200`;
  asServerAccount(join(binaries, "pg_ctl"), ["-w", "-D", data, "-l", join(folder, "log"), "-o", options, "start"]);
  const stop = () => {
    asServerAccount(join(binaries, "pg_ctl"), ["-w", "-D", data, "-m", "immediate", "stop"]);
    rmSync(folder, { recursive: true, force: true });
  };
  return { url: `postgresql://postgres@127.0.0.1:${port}`, stop };
}
