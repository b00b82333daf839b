// A process of its own that reads a number and writes it back one higher, each time in a transaction.
// Arguments: plain or safe, file, row id, rounds. Says "ready", begins at the first byte of input, prints how many rounds failed.
import { once } from "node:events";
import { openStore } from "@/lib/store/client";
import { openPlain } from "./plain-client";

const [kind = "", file = "", id = "", rounds = "0"] = process.argv.slice(2);
const db = kind === "plain" ? openPlain(file) : openStore(`file:${file}`);
await db.rateLimit.count();
process.stdout.write("ready\n");
await once(process.stdin, "data");
let failed = 0;
for (let i = 0; i < Number(rounds); i += 1) {
  await db
    .$transaction(async (tx) => {
      const row = await tx.rateLimit.findUniqueOrThrow({ where: { id } });
      await tx.rateLimit.update({ where: { id }, data: { count: row.count + 1 } });
    })
    .catch(() => {
      failed += 1;
    });
}
await db.$disconnect();
process.stdout.write(`${failed}\n`);
process.exit(0);
