import { commandLineActor } from "@/lib/access/actor";
import { crossCheckRegistry } from "@/lib/matching/cross-check.run";
import { prepareStore } from "@/lib/store/prepare";
import { WrongUse } from "./command";

function progress({ appliances }: { readonly appliances: number }): void {
  if (process.stderr.isTTY) process.stderr.write(`\r${appliances} appliances compared`);
}

/** Compares the registry of every organisation with its loaded recall lists, stores the candidates and prints the account. */
export async function crosscheckRegistry(): Promise<0 | 1> {
  const db = await prepareStore();
  try {
    const organisations = await db.organisation.findMany({ select: { id: true, name: true }, orderBy: [{ name: "asc" }, { id: "asc" }] });
    if (organisations.length === 0)
      throw new WrongUse("The registry has no organisation yet: create its first administrator with `people add`.");
    for (const { id, name } of organisations) {
      const account = await crossCheckRegistry(db, commandLineActor(id), { now: new Date(), onProgress: progress });
      const { covered, likely, check_label: asked } = account.grades;
      process.stdout.write(
        `${name}: ${account.appliances} appliances, ${account.notices} notices: ${covered} covered, ${likely} likely, ${asked} to check on the label; ` +
          `${account.added} new, ${account.changed} changed, ${account.removed} gone.\n`,
      );
    }
    return 0;
  } finally {
    await db.$disconnect();
  }
}
