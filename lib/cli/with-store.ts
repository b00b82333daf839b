import { Refused } from "@/lib/access/refusal";
import { Trouble } from "@/lib/access/trouble";
import type { Store } from "@/lib/store/client";
import { prepareStore } from "@/lib/store/prepare";
import { WrongUse } from "./command";

/** Opens the database, brought to this version's shape first, for one command, and closes it. What a user can mend becomes `WrongUse`. */
export async function withStore<T>(work: (db: Store) => Promise<T>): Promise<T> {
  const db = await prepareStore().catch((error: unknown) => {
    throw new WrongUse(error instanceof Error ? error.message : String(error));
  });
  try {
    return await work(db);
  } catch (error) {
    if (error instanceof Trouble || error instanceof Refused) throw new WrongUse(error.message);
    throw error;
  } finally {
    await db.$disconnect();
  }
}
