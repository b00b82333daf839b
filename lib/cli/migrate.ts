import { databaseUrl } from "@/lib/store/database-url";
import { migrate } from "@/lib/store/migrate";
import { type Command, WrongUse } from "./command";

/** `migrate`: brings the database to this version's shape and prints what was applied. */
export const migrateCommand: Command = async (args) => {
  if (args.length > 0) throw new WrongUse("Use: migrate. It takes no arguments; DATABASE_URL names the database.");
  const applied = await migrate(databaseUrl()).catch((error: unknown) => {
    throw new WrongUse(error instanceof Error ? error.message : String(error));
  });
  const lines = applied.length === 0 ? ["Nothing to apply: the database is up to date."] : applied.map((name) => `applied ${name}`);
  process.stdout.write(`${lines.join("\n")}\n`);
  return 0;
};
