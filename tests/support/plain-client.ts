import { PrismaBetterSqlite3 } from "@prisma/adapter-better-sqlite3";
import { PrismaClient } from "@/lib/store/generated/sqlite/client";

/** The embedded adapter as it comes, without the remedies of lib/store/client.ts: tests show with it what those are for. */
export function openPlain(file: string): PrismaClient {
  return new PrismaClient({ adapter: new PrismaBetterSqlite3({ url: `file:${file}`, timeout: 2000 }) });
}
