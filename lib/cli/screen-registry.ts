import { commandLineActor } from "@/lib/access/actor";
import { chooseOrganisation } from "@/lib/registry/first-organisation";
import { screenRegistry } from "@/lib/watch/screening.run";
import { accountLine, resultsCsv, writeOut } from "./results-csv";
import { withStore } from "./with-store";

/** Screens the kept readings of one organisation, stores the results and prints them as the stand-alone form does. */
export async function screenKeptReadings(organisation: string | null, out: string): Promise<0 | 1> {
  return withStore(async (db) => {
    const { id } = await chooseOrganisation(db, organisation, new Date());
    const { account, results } = await screenRegistry(db, commandLineActor(id), { now: new Date() });
    writeOut(out, resultsCsv(results));
    process.stderr.write(`${accountLine(account.counts, results.length)}\n`);
    return Object.keys(account.counts.setAside).length > 0 ? 1 : 0;
  });
}
