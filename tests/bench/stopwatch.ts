/** What a piece of work took: by the clock, and of the process's own time, which other programs on the machine do not add to. */
export interface Took {
  readonly ms: number;
  readonly cpuMs: number;
}

function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

export function collectGarbage(): void {
  (globalThis as { gc?: () => void }).gc?.();
}

/**
 * Times a piece of work. Garbage is collected before the rounds and not between them: machine code that names objects of an earlier round
 * is thrown away with them, and making it anew is not what is measured.
 */
export async function timed(work: () => unknown): Promise<Took> {
  const [started, startedCpu] = [performance.now(), cpuMs()];
  await work();
  return { ms: performance.now() - started, cpuMs: cpuMs() - startedCpu };
}

/** The best of several rounds, since everything else on the machine only adds. */
export function best(rounds: readonly Took[]): Took {
  return { ms: Math.min(...rounds.map(({ ms }) => ms)), cpuMs: Math.min(...rounds.map((took) => took.cpuMs)) };
}

/** Bytes in use after collecting garbage: objects, and the arrays of numbers outside of them, which a second round lets go. */
export function bytesInUse(): number {
  collectGarbage();
  collectGarbage();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}
