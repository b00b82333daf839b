import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const root = fileURLToPath(new URL("..", import.meta.url));
const alias = { "@": root.replace(/\/$/, "") };

export default defineConfig({
  root,
  test: {
    // One more than the default: a flow test waits for the database about half of its time.
    maxWorkers: Math.max(2, availableParallelism()),
    projects: [
      {
        resolve: { alias },
        test: { name: "unit", setupFiles: ["tests/support/property-seed.ts"], include: ["tests/unit/**/*.test.ts"], testTimeout: 20_000 },
      },
      { resolve: { alias }, test: { name: "structure", include: ["tests/structure.test.ts", "tests/docs.test.ts"], testTimeout: 60_000 } },
      {
        resolve: { alias },
        test: {
          name: "flow",
          setupFiles: ["tests/support/property-seed.ts"],
          include: ["tests/flow/**/*.test.ts"],
          globalSetup: ["tests/support/flow-setup.ts"],
          testTimeout: 60_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
