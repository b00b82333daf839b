import type { JobHandle } from "./worker";

/** Far below a claim's lease, so that one beat may be late. */
const everyMs = 15_000;

/** Does work that has no steps of its own, keeping the job's claim alive. What a beat throws, the work's end throws. */
export async function withHeartbeat<T>(handle: JobHandle, work: () => Promise<T>): Promise<T> {
  let failed: { readonly error: unknown } | null = null;
  const timer = setInterval(() => {
    handle.advance(0, null).catch((error: unknown) => {
      failed ??= { error };
    });
  }, everyMs);
  try {
    const result = await work();
    const lost = failed as { readonly error: unknown } | null;
    if (lost) throw lost.error;
    return result;
  } finally {
    clearInterval(timer);
  }
}
