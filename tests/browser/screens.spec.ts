import { mkdirSync } from "node:fs";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { stayIn } from "../support/browser-people";

const folder = join(import.meta.dirname, "screens");

/** Every page, by address; those with an id are found by following the first link of a list, some below it. */
const pages: readonly { name: string; address: string; follow?: RegExp; below?: string }[] = [
  { name: "today", address: "/" },
  { name: "appliances", address: "/appliances" },
  { name: "appliances-filtered", address: "/appliances?q=heater" },
  { name: "appliance", address: "/appliances?q=heater", follow: /^\/appliances\/[0-9a-f-]{36}$/ },
  { name: "appliance-new", address: "/appliances/new" },
  { name: "building", address: "/building" },
  { name: "site", address: "/building", follow: /^\/building\/[0-9a-f-]{36}$/ },
  { name: "site-pack", address: "/building", follow: /^\/building\/[0-9a-f-]{36}$/, below: "/pack" },
  { name: "recalls", address: "/recalls" },
  { name: "notice", address: "/recalls", follow: /^\/recalls\/[0-9a-f-]{36}$/ },
  { name: "review", address: "/recalls", follow: /^\/recalls\/review\/[0-9a-f-]{36}$/ },
  { name: "without-identifiers", address: "/recalls/without-identifiers" },
  { name: "makers", address: "/recalls/makers" },
  { name: "remedies", address: "/recalls/remedies" },
  { name: "checked", address: "/recalls/proof" },
  { name: "checked-print", address: "/recalls/proof/print" },
  { name: "lists", address: "/recalls/lists" },
  { name: "list-new", address: "/recalls/lists/new" },
  { name: "findings", address: "/findings" },
  { name: "finding", address: "/findings", follow: /^\/findings\/[0-9a-f-]{36}$/ },
  { name: "inspect", address: "/inspect" },
  { name: "inspection-round", address: "/inspect/round" },
  { name: "inspection-form", address: "/inspect/round", follow: /^\/inspect\/[0-9a-f-]{36}$/ },
  { name: "inspection-means", address: "/inspect/means" },
  { name: "readings", address: "/readings" },
  { name: "energy", address: "/readings/energy" },
  { name: "demand-response", address: "/readings/energy/events" },
  { name: "tariffs-and-limits", address: "/readings/energy/rules" },
  { name: "reconnection", address: "/readings/reconnection" },
  { name: "trips", address: "/readings/trips" },
  { name: "policy", address: "/readings/policy" },
  { name: "bring-in", address: "/bring-in" },
  { name: "import-run", address: "/bring-in", follow: /^\/bring-in\/[0-9a-f-]{36}$/ },
  { name: "record", address: "/record" },
  { name: "site-then", address: "/record", follow: /^\/building\/[0-9a-f-]{36}\/then$/ },
  { name: "people", address: "/people" },
  { name: "invite", address: "/people/invite" },
  { name: "account", address: "/account" },
];

const sizes = { desktop: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } } as const;

async function open(page: Page, { address, follow, below = "" }: (typeof pages)[number]): Promise<void> {
  await page.goto(address);
  if (!follow) return;
  const links = await page.locator("a[href]").evaluateAll((all) => all.map((link) => link.getAttribute("href") ?? ""));
  const found = links.map((href) => href.replace(/[?#].*$/, "")).find((href) => follow.test(href));
  expect(found, `${address} links to ${follow.source}`).toBeDefined();
  await page.goto(`${found ?? address}${below}`);
}

test.beforeAll(() => mkdirSync(folder, { recursive: true }));

for (const [size, viewport] of Object.entries(sizes)) {
  for (const theme of ["light", "dark"] as const) {
    test(`every page on a ${size} in ${theme}: no error, nothing wider than the screen, a picture`, async ({ browser }) => {
      test.setTimeout(180_000);
      const context = await browser.newContext({ viewport, colorScheme: theme });
      const page = await context.newPage();
      const errors: string[] = [];
      page.on("console", (message) => message.type() === "error" && errors.push(`${page.url()}: ${message.text()}`));
      page.on("pageerror", (error) => errors.push(`${page.url()}: ${error.message}`));
      await page.goto("/sign-in");
      await page.screenshot({ path: join(folder, `sign-in-${size}-${theme}.png`), fullPage: true });
      await stayIn(page, "administrator");
      for (const one of pages) {
        await open(page, one);
        await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
        const tooWide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        expect(tooWide, `${one.name} is wider than the screen`).toBeLessThanOrEqual(0);
        await page.screenshot({ path: join(folder, `${one.name}-${size}-${theme}.png`), fullPage: true });
      }
      expect(errors).toEqual([]);
      await context.close();
    });
  }
}

test("no page fails an automatic accessibility check, in light or dark", async ({ browser }) => {
  test.setTimeout(240_000);
  const failures: string[] = [];
  for (const colorScheme of ["light", "dark"] as const) {
    const context = await browser.newContext({ colorScheme });
    const page = await context.newPage();
    await stayIn(page, "administrator");
    for (const one of pages) {
      await open(page, one);
      const { violations } = await new AxeBuilder({ page }).withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]).analyze();
      failures.push(
        ...violations.map((violation) => `${one.name} ${colorScheme}: ${violation.id} ${violation.nodes[0]?.target.join(" ") ?? ""}`),
      );
    }
    await context.close();
  }
  expect(failures).toEqual([]);
});
