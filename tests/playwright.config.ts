import { join } from "node:path";
import { defineConfig } from "@playwright/test";

const port = Number(process.env["PLATEWARDEN_TEST_PORT"] ?? 4321);

export default defineConfig({
  testDir: join(import.meta.dirname, "browser"),
  outputDir: join(import.meta.dirname, "browser/report"),
  globalSetup: join(import.meta.dirname, "support/browser-setup.ts"),
  workers: 1,
  retries: 0,
  timeout: 60_000,
  reporter: [["list"]],
  use: {
    baseURL: `http://localhost:${port}`,
    launchOptions: {
      executablePath: process.env["CHROMIUM_PATH"] ?? "/usr/bin/chromium",
      args: ["--no-sandbox", "--disable-dev-shm-usage", "--disable-background-networking", "--no-first-run"],
    },
    trace: "retain-on-failure",
  },
});
