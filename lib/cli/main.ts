import { type Command, WrongUse } from "./command";

/** One entry a command; each file is loaded only when it is asked for, so that the stand-alone forms start without a database. */
const commands: Readonly<Record<string, () => Promise<Command>>> = {
  understand: async () => (await import("./understand")).understandCommand,
  crosscheck: async () => (await import("./crosscheck")).crosscheckCommand,
  screen: async () => (await import("./screen")).screenCommand,
  load: async () => (await import("./load")).loadCommand,
  people: async () => (await import("./people")).peopleCommand,
  backup: async () => (await import("./backup")).backupCommand,
  restore: async () => (await import("./restore")).restoreCommand,
  migrate: async () => (await import("./migrate")).migrateCommand,
  pack: async () => (await import("./pack")).packCommand,
  worker: async () => (await import("./worker")).workerCommand,
  verify: async () => (await import("./verify")).verifyCommand,
};

async function main(): Promise<number> {
  const [name, ...args] = process.argv.slice(2);
  const command = name !== undefined && Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!command) {
    const known = Object.keys(commands).join(", ");
    throw new WrongUse(name === undefined ? `Name a command: ${known}.` : `There is no command "${name}"; the commands are ${known}.`);
  }
  return (await command())(args);
}

main().then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.exitCode = 2;
    process.stderr.write(`${error instanceof WrongUse ? error.message : `Unexpected failure: ${String(error)}`}\n`);
    if (!(error instanceof WrongUse) && process.env["PLATEWARDEN_TRACE"]) console.error(error);
  },
);
