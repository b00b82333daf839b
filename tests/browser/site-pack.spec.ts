import { readFile } from "node:fs/promises";
import { type Download, expect, type Page, test } from "@playwright/test";
import { stayIn } from "../support/browser-people";

async function saved(page: Page, link: RegExp): Promise<{ name: string; bytes: Buffer }> {
  const coming: Promise<Download> = page.waitForEvent("download");
  await page.getByRole("link", { name: link }).click();
  const download = await coming;
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

async function openSite(page: Page, name: string): Promise<void> {
  await page.goto("/building");
  await page.getByRole("link", { name }).first().click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(name);
}

test("A manager has the pack of yesterday made and takes it along; made again it is the same file", async ({ page }) => {
  await stayIn(page, "manager");
  await openSite(page, "Alder House");
  await page.getByRole("link", { name: "site pack" }).click();
  await expect(page.getByText("No pack is kept")).toBeVisible();
  const today = await page.getByLabel("Day").inputValue();
  const day = new Date(Date.parse(today) - 86_400_000).toISOString().slice(0, 10);
  const make = async () => {
    await page.getByLabel("Day").fill(day);
    const asked = page.waitForResponse((answer) => answer.request().method() === "POST");
    await page.getByRole("button", { name: "Make the pack" }).click();
    await asked;
    await page.reload();
    await expect(page.getByRole("heading", { name: "Being made" })).toBeHidden({ timeout: 45_000 });
    await expect(page.getByRole("row").filter({ hasText: day })).toHaveCount(1);
    return { document: await saved(page, /^PDF/), tables: await saved(page, /^CSV/) };
  };
  const first = await make();
  expect([first.document.name, first.tables.name]).toEqual([`site-pack-alder-house-${day}.pdf`, `site-pack-alder-house-${day}.zip`]);
  expect(first.document.bytes.subarray(0, 5).toString()).toBe("%PDF-");
  expect(first.tables.bytes.subarray(0, 2).toString()).toBe("PK");
  const second = await make();
  expect(second.document.bytes.equals(first.document.bytes)).toBe(true);
  expect(second.tables.bytes.equals(first.tables.bytes)).toBe(true);
});

test("A surveyor, who may not hand packs on, is offered none", async ({ page }) => {
  await stayIn(page, "surveyor");
  await openSite(page, "Kestrel Court");
  await expect(page.getByRole("link", { name: "Energy" })).toBeVisible();
  await expect(page.getByRole("link", { name: "site pack" })).toHaveCount(0);
});
