import { type Browser, expect, type Page, test } from "@playwright/test";
import { expectSound } from "../support/browser-page";
import { stayIn } from "../support/browser-people";

/** The first site of the building page, by its address. */
async function firstSite(page: Page): Promise<string> {
  await page.goto("/building");
  const links = await page.locator("a[href^='/building/']").evaluateAll((all) => all.map((link) => link.getAttribute("href") ?? ""));
  const found = links.find((href) => /^\/building\/[0-9a-f-]{36}$/.test(href));
  expect(found).toBeDefined();
  return found ?? "";
}

const csvOf = async (page: Page, link: string | null) => (await page.request.get(link ?? "")).text();

test("a site as it was known on a day: asked by its date, its tables as files, a day to come refused in a sentence", async ({ page }) => {
  test.setTimeout(120_000);
  await stayIn(page, "inspector");
  await page.goto(await firstSite(page));
  await page.getByRole("link", { name: "as it was known on a day" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(/^As it was known on \d{4}-\d{2}-\d{2}$/);
  await expect(page.getByRole("heading", { name: "What cannot be told" })).toBeVisible();
  await expectSound(page);
  const now = await csvOf(page, await page.locator("#appliances").getByRole("link", { name: "CSV" }).getAttribute("href"));
  expect(now.split("\r\n")[0]).toMatch(/^tag,state,unit,.*,certain,known_at,record_head$/);

  await page.getByLabel("End of the day").fill("2001-02-03");
  await page.getByRole("button", { name: "Show" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("As it was known on 2001-02-03");
  await expect(page.getByText("None was recorded here then, or none matches.")).toBeVisible();
  await page.goto(`${new URL(page.url()).pathname}?day=2199-01-01`);
  await expect(page.getByText("2199-01-01 is still to come")).toBeVisible();
});

test("what was checked: the statement with its limits, one appliance, the files and the page to print", async ({ page }) => {
  test.setTimeout(120_000);
  await stayIn(page, "inspector");
  await page.goto("/recalls");
  await page.getByRole("link", { name: "What was checked, to hand on" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("What was checked");
  await expect(page.getByText("does not mean that an appliance is safe, nor that it is not recalled")).toBeVisible();
  await expectSound(page);
  const sums = page.getByRole("table", { name: "How many appliances came to what" }).getByRole("row");
  const figures = await sums.evaluateAll((rows) => rows.map((row) => Number(row.querySelector("td")?.textContent?.replace(/\D/g, ""))));
  const [, ...counts] = figures;
  const all = counts.pop();
  expect(counts.reduce((sum, count) => sum + count, 0)).toBe(all);
  const file = await csvOf(page, await page.getByRole("link", { name: "CSV: appliances" }).getAttribute("href"));
  const [head = "", first = ""] = file.split("\r\n");
  expect(head).toMatch(/^site,tag,.*came_to,why_not_in_full,notices,stored_comparison_agrees$/);
  const tag = first.split(",")[1] ?? "";

  await page.getByLabel("One appliance").fill(tag);
  await page.getByRole("button", { name: "Show" }).click();
  await expect(page.getByText(`The appliance ${tag} of`)).toBeVisible();
  await expect(page.getByText("the appliance was recorded")).toBeVisible();
  await page.getByRole("link", { name: "A page to print" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(`What was checked: appliance ${tag}`);
  await page.goto("/recalls/proof?tag=NO-SUCH");
  await expect(page.getByText('has the tag "NO-SUCH"')).toBeVisible();
});

test("remedies: the account of all notices, the chart with its table, the files", async ({ page }) => {
  test.setTimeout(120_000);
  await stayIn(page, "inspector");
  await page.goto("/recalls/remedies");
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Remedies");
  const account = (await page.getByText(/undecided \+ .* we have/).textContent()) ?? "";
  const [undecided, unsure, found, have] = (account.match(/[\d,]+/g) ?? []).map((text) => Number(text.replace(/,/g, "")));
  expect((undecided ?? 0) + (unsure ?? 0) + (found ?? 0)).toBe(have);
  await expect(page.getByRole("img", { name: "Settled share of each site over time, in per cent" }).first()).toBeVisible();
  await page.getByText("The figures behind this chart").click();
  await expect(page.getByRole("table", { name: "Have, found and settled of each site over time" })).toBeVisible();
  await expectSound(page);
  for (const [part, head] of [
    ["#notices", /^source,notice,date,title,have,/],
    ["#sites", /^site,at,have,.*settled_of_have/],
  ] as const)
    expect(await csvOf(page, await page.locator(part).getByRole("link", { name: "CSV" }).getAttribute("href"))).toMatch(head);
});

async function pageOf(browser: Browser): Promise<Page> {
  const page = await (await browser.newContext()).newPage();
  await stayIn(page, "administrator");
  return page;
}

test("a form keeps what was typed when the connection is lost, and is sent again", async ({ page, context }) => {
  test.setTimeout(120_000);
  await stayIn(page, "administrator");
  await page.goto(`${await firstSite(page)}/due`);
  const usual = await page.getByLabel("WARNING").inputValue();
  await page.getByLabel("WARNING").fill("13");
  await context.setOffline(true);
  await page.getByRole("button", { name: "State them" }).click();
  await expect(page.getByText("No answer came: the connection may be lost.")).toBeVisible();
  await expect(page.getByLabel("WARNING")).toHaveValue("13");
  await context.setOffline(false);
  for (const days of ["13", usual]) {
    await page.getByLabel("WARNING").fill(days);
    await page.getByRole("button", { name: "State them" }).click();
    await expect(page.getByText("Stated. It holds for findings opened from now on.")).toBeVisible();
    await page.reload();
    await expect(page.getByLabel("WARNING")).toHaveValue(days);
  }
});

test("two people change one site: the second sees both, loses nothing, and a whole site is held and released", async ({ browser }) => {
  test.setTimeout(120_000);
  const [mine, theirs] = [await pageOf(browser), await pageOf(browser)];
  const site = await firstSite(mine);
  await Promise.all([mine.goto(`${site}/edit`), theirs.goto(`${site}/edit`)]);
  const usual = { name: await mine.getByLabel("Name").inputValue(), volts: await mine.getByLabel("Nominal voltage, V").inputValue() };
  await theirs.getByLabel("Name").fill(`${usual.name} North`);
  await theirs.getByLabel("Nominal voltage, V").fill("127");
  await theirs.getByRole("button", { name: "Save" }).click();
  await expect(theirs.getByRole("heading", { level: 1 })).toHaveText(`${usual.name} North`);

  await mine.getByLabel("Name").fill(`${usual.name} South`);
  await mine.getByRole("button", { name: "Save" }).click();
  await expect(mine.getByText("Somebody else changed the site")).toBeVisible();
  await expect(mine.getByText(`Name: somebody else wrote “${usual.name} North”`)).toBeVisible();
  await expect(mine.getByLabel("Name")).toHaveValue(`${usual.name} South`);
  await expect(mine.getByLabel("Nominal voltage, V")).toHaveValue("127");
  await mine.getByRole("button", { name: "Take theirs" }).click();
  await expect(mine.getByLabel("Name")).toHaveValue(`${usual.name} North`);
  await mine.getByLabel("Name").fill(usual.name);
  await mine.getByLabel("Nominal voltage, V").fill(usual.volts);
  await mine.getByRole("button", { name: "Save" }).click();
  await expect(mine.getByRole("heading", { level: 1 })).toHaveText(usual.name);

  await mine.goto(`${site}/hold`);
  await expectSound(mine);
  await mine.getByLabel("Who asked for a hold, and why").fill("Court order 3");
  await mine.getByRole("button", { name: "Place a hold on the whole site" }).click();
  await expect(mine.getByText("The whole site has been under a hold")).toBeVisible();
  await mine.getByLabel("Who released it, and why").fill("Order lifted");
  await mine.getByRole("button", { name: "Release the hold" }).click();
  await expect(mine.getByRole("cell", { name: "Order lifted" })).toBeVisible();
  await mine.context().close();
  await theirs.context().close();
});
