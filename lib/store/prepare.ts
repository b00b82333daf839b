import { openStore, type Store } from "./client";
import { databaseUrl } from "./database-url";
import { migrate } from "./migrate";

/** Brings the database to this version's shape and opens it: what every command does first, so that none needs a set-up step. */
export async function prepareStore(url: string = databaseUrl()): Promise<Store> {
  await migrate(url);
  return openStore(url);
}
