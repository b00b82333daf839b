import { publicUrl } from "@/lib/access/public-url";
import { signInSecret } from "@/lib/access/secret";
import { processArrivals } from "@/lib/jobs/process-arrivals";
import { processWorker } from "@/lib/jobs/process-worker";
import { getStore } from "@/lib/store/client";
import { databaseUrl } from "@/lib/store/database-url";
import { migrate } from "@/lib/store/migrate";
import { markPeers } from "./peer-address";

/** What must be right before the first request; anything wrong stops the server with one sentence. */
export async function start(): Promise<void> {
  publicUrl();
  signInSecret();
  await migrate(databaseUrl());
  markPeers();
  // Takes up what an earlier process left unfinished.
  processWorker(getStore());
  processArrivals(getStore());
}
