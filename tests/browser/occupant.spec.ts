import { type Browser, expect, type Page, test } from "@playwright/test";
import { bringIn, expectSound } from "../support/browser-page";
import { signIn } from "../support/browser-people";

const tag = "OCC-7731";
const places = `site,unit,circuit,device_amps,volts,leg,outlet,outlet_amps,receptacles,time_zone
Occupant House,Flat-77Q,O-1,15,120,1,O-1-1,15,2,America/Chicago
`;
const labels = `tag,site,unit,outlet,receptacle,category,brand,model,serial,rated_volts,rated_watts
${tag},Occupant House,Flat-77Q,O-1-1,upper,toaster,Orbrook,OT-31,SECRET-99,120,800
`;
// One pixel, white.
const photo = Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8/5+hHgAHggJ/PchI7wAAAABJRU5ErkJggg==", "base64");

/** Enters whom to call and a German-speaking occupant, and opens a danger; returns the finding's address. */
async function prepare(page: Page): Promise<string> {
  await bringIn(page, "occupant-places.csv", places);
  await bringIn(page, "occupant-labels.csv", labels);
  await page.goto("/building");
  await page.getByRole("link", { name: "Occupant House" }).first().click();
  await page.getByRole("link", { name: "who lives where" }).click();
  await page.getByLabel("Person or office").fill("House office");
  await page.getByLabel("Telephone").fill("+1 555 0100");
  await page.getByRole("button", { name: "Keep the contact" }).click();
  await expect(page.getByText("Kept.")).toBeVisible();
  await page.getByLabel("Unit", { exact: true }).selectOption({ label: "Flat-77Q" });
  await page.getByLabel("Occupant’s name").fill("O. Winter");
  await page.getByLabel("Language").selectOption("de");
  await page.getByRole("button", { name: "Enter", exact: true }).click();
  await expect(page.getByRole("cell", { name: "O. Winter" })).toBeVisible();
  await expectSound(page);
  await page.goto(`/findings/new?tag=${tag}`);
  await page.getByLabel("Tag of the appliance").fill(tag);
  await page.getByLabel("Signal word").selectOption("DANGER");
  await page.getByLabel("What was seen").fill("Its cord is bare.");
  await page.getByRole("button", { name: "Open the finding" }).click();
  await expect(page).toHaveURL(/\/findings\/[0-9a-f-]{36}/);
  return new URL(page.url()).pathname;
}

/** Makes the printed notice and takes its link, which is shown once. */
async function printNotice(page: Page): Promise<string> {
  await page.getByRole("link", { name: "Tell the occupant" }).click();
  await expect(page.getByRole("article")).toContainText("NICHT MEHR BENUTZEN.");
  await page.getByRole("button", { name: "Make the link for printing" }).click();
  const link = await page.getByText(/\/o\/[\w-]{43}$/).textContent();
  await expectSound(page);
  return new URL(link?.trim() ?? "").pathname;
}

/** A phone of somebody who is not signed in. */
async function phone(browser: Browser, locale: string): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, locale, colorScheme: "dark" });
  return context.newPage();
}

test("an occupant learns what to do in their language, says that it is unplugged, sends a photo; a stranger sees less", async ({
  page,
  browser,
}) => {
  test.setTimeout(180_000);
  await signIn(page, "manager");
  const finding = await prepare(page);
  const path = await printNotice(page);

  const occupant = await phone(browser, "fr-FR");
  await occupant.goto(path);
  await expect(occupant.getByRole("heading", { level: 1 })).toHaveText("Ihr Gerät");
  await expect(occupant.getByText("GEFAHR", { exact: true })).toBeVisible();
  await expect(occupant.getByText("Orbrook")).toBeVisible();
  await expect(occupant.getByText("House office, +1 555 0100")).toBeVisible();
  await expectSound(occupant);
  await page.goto(finding);
  await expect(page.getByText("No word from the occupant.")).toBeVisible();
  const send = occupant.getByRole("button", { name: "Melden, dass der Stecker gezogen ist" });
  await send.click();
  await expect(occupant.getByText("Kreuzen Sie an, dass der Stecker gezogen ist")).toBeVisible();
  await occupant.getByLabel("Ich habe den Stecker gezogen").check();
  await send.click();
  await expect(occupant.getByText("gemeldet, dass der Stecker gezogen ist. Vielen Dank")).toBeVisible();
  await occupant.locator("input[type=file]").setInputFiles({ name: "x.png", mimeType: "image/png", buffer: Buffer.from("no photo") });
  await occupant.getByRole("button", { name: "Foto senden" }).click();
  await expect(occupant.getByText("konnte nicht aufbewahrt werden")).toBeVisible();
  await occupant.locator("input[type=file]").setInputFiles({ name: "plug.png", mimeType: "image/png", buffer: photo });
  await occupant.getByRole("button", { name: "Foto senden" }).click();
  await expect(occupant.getByText("Gesendet am")).toBeVisible();
  await expectSound(occupant);

  await page.goto(finding);
  await expect(page.getByText(/The occupant says it is unplugged/)).toBeVisible();
  await expect(page.locator("#history")).toContainText("The occupant sent a photo");
  await page.getByRole("link", { name: "Record: out of use" }).first().click();
  await page.getByRole("button", { name: "Record: out of use" }).click();
  await page.getByRole("link", { name: "Print the DO NOT USE sheet" }).click();
  await expect(page.getByRole("heading", { name: "DO NOT USE" })).toBeVisible();
  await expectSound(page);
  const tagAddress = await page.getByRole("article").getByRole("img").getAttribute("alt");

  const stranger = await phone(browser, "en-US");
  await stranger.goto(new URL(tagAddress ?? "").pathname);
  await expect(stranger.getByText("DO NOT USE THIS APPLIANCE.")).toBeVisible();
  await expect(stranger.getByText("House office: +1 555 0100")).toBeVisible();
  for (const secret of ["Orbrook", "OT-31", "SECRET-99", "Occupant House", "Flat-77Q", "Winter", "bare"])
    expect(await stranger.content()).not.toContain(secret);
  await expectSound(stranger);
  await stranger.getByRole("link", { name: "Auf Deutsch" }).click();
  await expect(stranger.getByText("DIESES GERÄT NICHT BENUTZEN.")).toBeVisible();
  await page.goto(new URL(tagAddress ?? "").pathname);
  await expect(page).toHaveURL(/\/appliances\/[0-9a-f-]{36}$/);

  await page.goto("/building");
  await page.getByRole("link", { name: "Occupant House" }).first().click();
  await page.getByRole("link", { name: "who lives where" }).click();
  await page.getByRole("button", { name: "End it, and its links" }).click();
  await expect(page.getByRole("button", { name: "Erase name and address" })).toBeVisible();
  await occupant.goto(path);
  await expect(occupant.getByText(/not open any more/)).toBeVisible();
  await page.getByRole("button", { name: "Erase name and address" }).click();
  await expect(page.getByText("erased")).toBeVisible();
  await expect(page.getByText("O. Winter")).toHaveCount(0);
});
