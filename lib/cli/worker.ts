import { parseArgs } from "node:util";
import { z } from "zod";
import type { Store } from "@/lib/store/client";
import { type Command, WrongUse } from "./command";
import type { Service, StartService } from "./service";
import { withStore } from "./with-store";

const usage =
  "Use: worker [--broker mqtt://HOST [--topic BEGINNING]]. It does due jobs and schedules and follows readings until it is stopped (Ctrl-C or SIGTERM); DATABASE_URL names the database.";

/** The options of the command, one row each; every one of them is text. */
const options = z
  .strictObject({ broker: z.string().optional(), topic: z.string().optional() })
  .refine(({ broker, topic }) => topic === undefined || broker !== undefined, { error: "--topic needs --broker" });
type WorkerOptions = z.infer<typeof options>;

function readOptions(args: readonly string[]): WorkerOptions {
  try {
    const named = Object.fromEntries(Object.keys(options.shape).map((name) => [name, { type: "string" } as const]));
    return options.parse(parseArgs({ args: [...args], options: named }).values);
  } catch (error) {
    const said = error instanceof z.ZodError ? error.issues[0]?.message : error instanceof Error ? error.message.split(". ")[0] : null;
    throw new WrongUse(`${said ?? "Wrong use"}. ${usage}`);
  }
}

/** What these options ask for; each service is loaded only when it is wanted. */
async function servicesOf({ broker, topic }: WorkerOptions): Promise<StartService[]> {
  const { brokerService, followingService } = await import("./worker-broker");
  const jobs = [(await import("./worker-jobs")).jobService, followingService];
  return broker === undefined ? jobs : [...jobs, brokerService({ broker, topic })];
}

/** `told` resolves at the first signal to end; a second one ends the process at once. */
function waitForSignal(): { readonly told: Promise<void>; readonly letGo: () => void } {
  // Nothing else need hold the process open: a worker's own timers do not.
  const open = setInterval(() => {}, 60_000);
  const told = new Promise<void>((resolve) => {
    for (const signal of ["SIGTERM", "SIGINT"] as const) process.once(signal, () => resolve());
  });
  return { told, letGo: () => clearInterval(open) };
}

async function stopAll(services: readonly Service[]): Promise<void> {
  for (const service of [...services].reverse()) await service.stop();
}

async function run(db: Store, starts: readonly StartService[]): Promise<void> {
  const signal = waitForSignal();
  const running: Service[] = [];
  try {
    for (const start of starts) running.push(await start(db));
    process.stderr.write(`The worker runs: ${running.map(({ name }) => name).join(", ")}.\n`);
    await signal.told;
    process.stderr.write("The worker ends what it has in hand.\n");
  } finally {
    signal.letGo();
    await stopAll(running);
  }
}

/** `worker`: does due jobs and schedules until it is stopped. Any number of workers may run beside each other and beside the web process. */
export const workerCommand: Command = async (args) => {
  const starts = await servicesOf(readOptions(args));
  await withStore((db) => run(db, starts));
  return 0;
};
