// A process of its own that migrates a database at the first byte of input. Argument: its URL. Prints the applied names as JSON.
import { once } from "node:events";
import { migrate } from "@/lib/store/migrate";

process.stdout.write("ready\n");
await once(process.stdin, "data");
process.stdout.write(`${JSON.stringify(await migrate(process.argv[2] ?? ""))}\n`);
process.exit(0);
