import { expect, it } from "vitest";
import { type JobWork, runNextJob, Worker } from "@/lib/jobs/worker";
import type { Store } from "@/lib/store/client";
import { newId } from "@/lib/store/ids";
import { advanceJob, askCancel, claimJob, findJob, queueJob } from "@/lib/store/job-queries";
import { makeOrganisation } from "@/seed/builders";
import { eachDatabase } from "../support/database";

const at = (seconds: number) => new Date(Date.UTC(2026, 0, 1) + seconds * 1000);

async function queued(db: Store, kind = "count"): Promise<{ id: string; organisationId: string }> {
  const organisationId = (await makeOrganisation(db)).id;
  const id = newId();
  await queueJob(db, { id, organisationId, kind, payload: {}, byUserId: null, at: at(0) });
  return { id, organisationId };
}

eachDatabase("the room of jobs", (open) => {
  it("gives each job to one of several workers", async () => {
    const { db, close } = await open();
    const ids = new Set<string>();
    for (let i = 0; i < 6; i++) ids.add((await queued(db)).id);
    const claims = await Promise.all(Array.from({ length: 12 }, () => claimJob(db, at(1), at(61))));
    const claimed = claims.flatMap((job) => (job ? [job.id] : []));
    expect(claimed.length).toBe(6);
    expect(new Set(claimed)).toEqual(ids);
    await close();
  });

  it("hands a job over when the lease of its worker runs out, and tells the first one that it lost it", async () => {
    const { db, close } = await open();
    await queued(db);
    const first = await claimJob(db, at(1), at(61));
    expect(await claimJob(db, at(60), at(120))).toBeNull();
    const second = await claimJob(db, at(62), at(122));
    expect(second?.id).toBe(first?.id);
    expect(second?.attempts).toBe(2);
    expect(first && (await advanceJob(db, first, { leaseUntil: at(200), done: 1 }))).toBe(false);
    expect(second && (await advanceJob(db, second, { leaseUntil: at(200), done: 1 }))).toBe(true);
    await close();
  });

  it("does what is due, notes progress, and keeps the sentence of a failure", async () => {
    const { db, close } = await open();
    const good = await queued(db);
    const bad = await queued(db, "fail");
    const works: Record<string, JobWork> = {
      count: async (_db, handle) => {
        await handle.advance(3, 4);
        return { message: "counted" };
      },
      fail: async () => {
        throw new Error("It cannot be done.");
      },
    };
    while (await runNextJob(db, works, () => at(1)));
    expect(await findJob(db, good.organisationId, good.id)).toMatchObject({ state: "done", done: 3, total: 4, message: "counted" });
    expect(await findJob(db, bad.organisationId, bad.id)).toMatchObject({ state: "failed", message: "It cannot be done." });
    await close();
  });

  it("gives up a job that took its process down three times", async () => {
    const { db, close } = await open();
    const { id, organisationId } = await queued(db);
    for (const second of [1, 100, 200]) await claimJob(db, at(second), at(second + 60));
    await runNextJob(db, { count: async () => ({ message: null }) }, () => at(400));
    expect(await findJob(db, organisationId, id)).toMatchObject({ state: "failed" });
    await close();
  });

  it("cancels a waiting job at once and asks a running one to stop", async () => {
    const { db, close } = await open();
    const waiting = await queued(db);
    await askCancel(db, waiting.organisationId, waiting.id, at(1));
    expect(await findJob(db, waiting.organisationId, waiting.id)).toMatchObject({ state: "cancelled" });
    const running = await queued(db);
    await runNextJob(
      db,
      {
        count: async (_db, handle) => {
          const before = await handle.isCancelled();
          await askCancel(db, running.organisationId, running.id, at(2));
          return { message: `${before} ${await handle.isCancelled()}`, cancelled: true };
        },
      },
      () => at(1),
    );
    expect(await findJob(db, running.organisationId, running.id)).toMatchObject({ state: "cancelled", message: "false true" });
    await close();
  });

  it("wakes one worker for many calls, and each job is done once", async () => {
    const { db, close } = await open();
    const done: string[] = [];
    const work: JobWork = async (_db, { job }) => {
      done.push(job.id);
      return { message: null };
    };
    const workers = [1, 2].map(() => new Worker(db, { count: work }, { clock: () => at(1), everyMs: 60_000 }));
    const ids = [(await queued(db)).id, (await queued(db)).id, (await queued(db)).id];
    await Promise.all(workers.flatMap((worker) => [worker.wake(), worker.wake()]));
    expect([...done].sort()).toEqual([...ids].sort());
    await Promise.all(workers.map((worker) => worker.stop()));
    await close();
  });
});
