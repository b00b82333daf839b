import { AsyncLocalStorage } from "node:async_hooks";
import { PrismaBetterSqlite3 } from "@prisma/adapter-better-sqlite3";
import { PrismaPg } from "@prisma/adapter-pg";
import { databaseUrl, parseDatabaseUrl } from "./database-url";
import { PrismaClient as PostgresqlClient } from "./generated/postgresql/client";
import { type Prisma, PrismaClient } from "./generated/sqlite/client";

/** A client outside a transaction. All code is written against the embedded provider's types, the smaller interface of the two. */
export type Store = PrismaClient;
/** What queries and use cases take: the client, or the transaction they run in. */
export type Db = PrismaClient | Prisma.TransactionClient;
export type Dialect = "sqlite" | "postgresql";

const dialects = new WeakMap<object, Dialect>();
const readers = new WeakMap<object, PrismaClient>();
const lockTimeoutMs = 20_000;
const transactionLimits = { maxWait: 30_000, timeout: 120_000 };
const reading = /^(find|count$|aggregate$|groupBy$)/;

/** Which database a client or transaction speaks to; transactions carry their client's mark. */
export function dialectOf(db: Db): Dialect {
  return dialects.get(db) ?? (Reflect.get(db, "_activeProvider") === "postgresql" ? "postgresql" : "sqlite");
}

/**
 * Where raw SELECTs go: outside a transaction to the embedded database's read-only connection, so that they do not wait for a
 * writer's turn; inside one, and on a server, to `db` itself. Model queries need no such care.
 */
export function rawReader(db: Db): Db {
  return readers.get(db) ?? db;
}

type Operation = { model?: string; operation: string; args: unknown; query: (args: unknown) => Promise<unknown> };
type Delegates = Record<string, Record<string, (args: unknown) => Promise<unknown>>>;

/**
 * The embedded adapter holds ONE connection, so that any query sent while another request's transaction is open would run inside
 * it, and be lost with it; and it begins transactions without the write lock, so that two processes can fail each other at the
 * first write. The remedy: writes take turns, a transaction keeps its turn to the end and takes the lock at once, and reads
 * outside a transaction use a second, read-only connection.
 */
function openEmbedded(file: string): Store {
  const url = `file:${file}`;
  const inTransaction = new AsyncLocalStorage<true>();
  let tail: Promise<unknown> = Promise.resolve();
  const takeTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const turn = tail.then(work, work);
    tail = turn.catch(() => undefined);
    return turn;
  };
  const writer = new PrismaClient({ adapter: new PrismaBetterSqlite3({ url, timeout: lockTimeoutMs }) });
  const reader = new PrismaClient({ adapter: new PrismaBetterSqlite3({ url, readonly: true, timeout: lockTimeoutMs }) });
  const extended = writer.$extends({
    query: {
      $allOperations({ model, operation, args, query }: Operation) {
        if (inTransaction.getStore()) return query(args);
        if (model && reading.test(operation)) return readOutside(reader, model, operation, args);
        return takeTurn(() => query(args));
      },
    },
  }) as unknown as Store;
  const transact = (work: (tx: Prisma.TransactionClient) => Promise<unknown>, limits?: object) => {
    if (inTransaction.getStore()) throw new Error("A transaction was opened inside a transaction: pass the outer one along.");
    if (typeof work !== "function") throw new Error("Pass $transaction a function; lists of queries are not used here.");
    return takeTurn(() =>
      inTransaction.run(true, () =>
        extended.$transaction(
          async (tx) => {
            dialects.set(tx, "sqlite");
            // A write that changes nothing takes the write lock now, not at the first real write.
            await tx.$executeRawUnsafe(`DELETE FROM "_prisma_migrations" WHERE 0`);
            return work(tx);
          },
          { ...transactionLimits, ...limits },
        ),
      ),
    );
  };
  const disconnect = async () => {
    await Promise.all([writer.$disconnect(), reader.$disconnect()]);
  };
  const store = new Proxy(extended, {
    get(target, key) {
      if (key === "$transaction") return transact;
      if (key === "$disconnect") return disconnect;
      return Reflect.get(target, key) as unknown;
    },
  });
  readers.set(store, reader);
  return store;
}

function readOutside(reader: PrismaClient, model: string, operation: string, args: unknown): Promise<unknown> {
  const delegate = (reader as unknown as Delegates)[model[0]?.toLowerCase() + model.slice(1)];
  return delegate?.[operation]?.(args) ?? Promise.reject(new Error(`There is no ${operation} on ${model}.`));
}

function openServer(connectionString: string): Store {
  const client = new PostgresqlClient({ adapter: new PrismaPg({ connectionString }), transactionOptions: transactionLimits });
  return client as unknown as Store;
}

/**
 * Opens the database that `url` names (`file:PATH` or `postgresql://...`). Migrate it first: the read-only connection needs the
 * file to be there.
 */
export function openStore(url: string = databaseUrl()): Store {
  const target = parseDatabaseUrl(url);
  const store = target.dialect === "sqlite" ? openEmbedded(target.file) : openServer(target.connectionString);
  dialects.set(store, target.dialect);
  return store;
}

const shared = globalThis as typeof globalThis & { platewardenStore?: Store };

/** The process's one client. Kept on `globalThis` because the framework bundles start-up code and pages apart. */
export function getStore(): Store {
  shared.platewardenStore ??= openStore();
  return shared.platewardenStore;
}
