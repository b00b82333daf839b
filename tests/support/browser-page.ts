import AxeBuilder from "@axe-core/playwright";
import { expect, type Page } from "@playwright/test";

/** Brings in a CSV file through the form and waits until its account stands. */
export async function bringIn(page: Page, name: string, text: string): Promise<void> {
  await page.goto("/bring-in");
  await page.locator("input[type=file]").setInputFiles({ name, mimeType: "text/csv", buffer: Buffer.from(text) });
  await page.getByRole("button", { name: "Bring in", exact: true }).click();
  await untilAccounted(page);
}

export async function untilAccounted(page: Page): Promise<void> {
  await expect(page.getByRole("link", { name: "Bring in another file" })).toBeVisible({ timeout: 60_000 });
}

/** Nothing that the automatic checks find, and nothing wider than the screen. */
export async function expectSound(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth)).toBe(false);
}
