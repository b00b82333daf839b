import { expect, type Page, test } from "@playwright/test";
import { bringIn, untilAccounted } from "../support/browser-page";
import { type DemoRole, signIn, signOut } from "../support/browser-people";

const places = `site,unit,circuit,device_amps,volts,leg,outlet,outlet_amps,receptacles,time_zone
Journey House,1A,J-1,15,120,1,J-1-1,15,2,America/Chicago
Journey House,1B,J-2,15,120,2,J-2-1,15,2,America/Chicago
`;
// Somebody else's spreadsheet: other column names, a broken row among good ones.
const labels = `Building;Apartment;Outlet;Receptacle;Kind;Maker;Model No;Serial No;Volts;Watts
Journey House;1A;J-1-1;upper;space heater;Veldmark;VT-900;VM2301-00042;120;900
Journey House;1B;J-2-1;upper;kettle;Orbrook;OK-12;OB77120;120;1500
;1C;;;toaster;Orbrook;OT-2;;120;800
`;
const recalls = `source,number,date,title,brand,product,models,serials,made_from,made_to,upc,hazard,remedy,url,description
Town list,T-77,2026-10-01,Veldmark space heaters recalled,Veldmark,space heater,VT-900,,,,,The heater can catch fire.,Refund,,This recall involves Veldmark space heaters with model number VT-900.
`;

/** The kettle runs a quarter above its plate for two minutes, every second read. */
function log(): string {
  const start = Date.parse("2026-11-20T08:00:00Z");
  const line = (seconds: number, watts: number) =>
    `${new Date(start + seconds * 1000).toISOString()},J-2-1,upper,,${watts},${(watts / 120).toFixed(2)},120,,,`;
  const lines = Array.from({ length: 120 }, (_, second) => line(second, 1875));
  return `at,outlet,receptacle,tag,watts,amps,volts,power_factor,event,cause\n${line(-30, 0)}\n${lines.join("\n")}\n${line(121, 0)}\n`;
}

/** A figure of the account's equation. */
async function figure(page: Page, word: string): Promise<string | null> {
  return page
    .locator("dl > div", { has: page.locator("dt", { hasText: new RegExp(`^${word}$`) }) })
    .locator("dd")
    .textContent();
}

async function changePerson(page: Page, role: DemoRole): Promise<void> {
  await signOut(page);
  await signIn(page, role);
}

test("from a spreadsheet of labels to a closed danger: labels, notices, review, log, finding, closed", async ({ page }) => {
  test.setTimeout(180_000);
  await signIn(page, "manager");

  await bringIn(page, "places.csv", places);
  expect(await figure(page, "created")).toBe("2");

  await page.goto("/bring-in");
  await page.locator("input[type=file]").setInputFiles({ name: "labels.csv", mimeType: "text/csv", buffer: Buffer.from(labels) });
  await expect(page.getByRole("row", { name: /Maker/ }).getByRole("combobox")).toHaveValue("brand");
  await page.getByRole("button", { name: "Bring in", exact: true }).click();
  await untilAccounted(page);
  expect([await figure(page, "rows read"), await figure(page, "created"), await figure(page, "set aside")]).toEqual(["3", "2", "1"]);

  await bringIn(page, "recalls.csv", recalls);
  await page.goto("/recalls?q=Veldmark");
  await page.getByRole("link", { name: /^Review/ }).click();
  await expect(page.getByRole("heading", { level: 1 })).toContainText("covered by notice T-77");
  await page.getByRole("radio", { name: /^Affected/ }).check();
  await page.getByLabel("What you saw, for the record").fill("Plate read: VT-900.");
  await page.getByRole("button", { name: "Decide for this one" }).click();
  await expect(page.locator("main")).toContainText("Decided for 1: affected");
  await page.goto("/findings?q=T-77");
  await expect(page.locator("tbody tr", { hasText: "T-77" })).toHaveCount(1);

  await bringIn(page, "log.csv", log());
  expect(await figure(page, "created")).toBe("122");
  await page.goto("/findings?q=Orbrook");
  await expect(page.locator("tbody tr", { hasText: "Above its rating" })).toHaveCount(1);

  await page.goto("/findings?q=T-77");
  await page
    .locator("tbody tr", { hasText: "T-77" })
    .getByRole("link", { name: /^Covered by/ })
    .click();
  await expect(page).toHaveURL(/\/findings\/[0-9a-f-]{36}$/);
  const finding = page.url();
  await takeStep(page, "Record: out of use", "Unplugged, in the locked store.");
  await expect(page.locator("main")).toContainText("Keep it out of use.");
  await takeStep(page, "Add the proof", "Refund receipt 12-889.");

  await changePerson(page, "inspector");
  await page.goto(finding);
  await closeFinding(page);
  await expect(page.locator("main")).toContainText("closed");
  await page.goto("/findings?q=T-77");
  await expect(page.locator("tbody tr", { hasText: "T-77" })).toHaveCount(0);
});

async function takeStep(page: Page, name: string, text: string): Promise<void> {
  await page.getByRole("link", { name, exact: true }).first().click();
  const form = page.getByRole("region", { name });
  await form.getByRole("textbox").first().fill(text);
  await form.getByRole("button", { name }).click();
  await expect(page.locator("main")).toContainText(text);
}

async function closeFinding(page: Page): Promise<void> {
  await page.getByRole("link", { name: "Close", exact: true }).click();
  const form = page.getByRole("region", { name: "Close" });
  await form.getByLabel("How it ended").selectOption({ label: "remedy received" });
  for (const box of await form.locator("textarea").all()) await box.fill("Refund receipt 12-889, checked.");
  await form.getByRole("button", { name: "Close" }).click();
}
