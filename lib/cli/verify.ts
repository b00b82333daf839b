import { type RecordVerdict, verifyRecord } from "@/lib/store/verify-record";
import { type Command, WrongUse } from "./command";
import { withStore } from "./with-store";

function sentence(name: string, { entries, broken, lastHash }: RecordVerdict): string {
  if (broken) return `${name}: BROKEN at entry ${broken.number}: ${broken.why}. The ${entries} entries before it are as they were written.`;
  return `${name}: whole, ${entries} entries, the last one's hash ${lastHash}`;
}

/**
 * `verify`: recomputes every hash of each organisation's record and says whether it is whole, and where not. The last hash, written
 * down elsewhere, shows later that nothing was cut off the end.
 */
export const verifyCommand: Command = async (args) => {
  if (args.length > 0) throw new WrongUse("Use: verify. It takes no arguments; DATABASE_URL names the database.");
  const lines = await withStore(async (db) => {
    const organisations = await db.organisation.findMany({ orderBy: { name: "asc" } });
    return Promise.all(organisations.map(async ({ id, name }) => sentence(name, await verifyRecord(db, id))));
  });
  process.stdout.write(`${lines.length > 0 ? lines.join("\n") : "There is no organisation yet, so there is no record."}\n`);
  return 0;
};
