import { type Browser, expect, type Page, test } from "@playwright/test";
import { bringIn, expectSound } from "../support/browser-page";
import { stayIn } from "../support/browser-people";

const places = `site,unit,circuit,device_amps,volts,leg,outlet,outlet_amps,receptacles,time_zone
Cellar House,0101,C-1,15,120,1,C-1-1,15,2,America/Chicago
Cellar House,0201,C-2,15,120,1,C-2-1,15,2,America/Chicago
`;
const labels = `tag,site,unit,outlet,receptacle,category,brand,model,rated_volts,rated_watts
INS-4410,Cellar House,0101,C-1-1,upper,kettle,Orbrook,OK-12,120,1500
INS-4411,Cellar House,0201,C-2-1,upper,toaster,Orbrook,OT-31,120,800
`;
test.use({ actionTimeout: 15_000 });

// One pixel, white.
const photo = Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8/5+hHgAHggJ/PchI7wAAAABJRU5ErkJggg==", "base64");
const items = ["Plug", "Cord", "Cord anchorage", "Enclosure", "Signs of heat", "Suitable for its place", "Vents"];
const laterItems = ["Switches and controls", "Guards and stability", "Rating plate"];

/** An inspector needs a paper and an instrument, else what passes is only limited. */
async function enterMeans(page: Page): Promise<void> {
  await page.goto("/inspect/means");
  await page.getByText("Enter a competence").click();
  await page.getByLabel("Person", { exact: true }).selectOption({ label: "Jonna Varga" });
  await page.getByLabel("What", { exact: true }).fill("Inspection course");
  await page.getByLabel("Issued by").fill("Trade school");
  await page.getByRole("button", { name: "Enter the competence" }).click();
  await expect(page.getByRole("cell", { name: "Inspection course" })).toBeVisible();
  await page.getByText("Enter an instrument").click();
  await page.getByLabel("Make").fill("Ohmar");
  await page.getByLabel("Serial number").fill("0042");
  await page.getByLabel("Calibrated on").last().fill("2026-01-10");
  await page.getByLabel("Valid until").last().fill("2099-01-10");
  await page.getByRole("button", { name: "Enter the instrument" }).click();
  await expect(page.getByRole("cell", { name: "0042" })).toBeVisible();
  await expectSound(page);
}

async function phoneOf(browser: Browser): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const page = await context.newPage();
  await stayIn(page, "inspector");
  return page;
}

/** Types the tag and waits until the phone holds the page for a reload without a connection. */
async function openByTag(page: Page, tag: string): Promise<void> {
  await page.goto("/inspect");
  await page.getByLabel("Tag", { exact: true }).fill(tag.toLowerCase());
  await page.getByRole("button", { name: "Open", exact: true }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Inspect");
  await expect(page).toHaveURL(/\/inspect\/[0-9a-f-]{36}$/);
  const isHeld = () =>
    page.evaluate(async () => navigator.serviceWorker.controller !== null && (await caches.match(location.pathname)) !== undefined);
  await expect.poll(isHeld, { timeout: 30_000 }).toBe(true);
}

async function tickAll(page: Page, names: readonly string[]): Promise<void> {
  for (const name of names) await page.getByRole("group", { name, exact: true }).getByLabel("pass").check();
}

async function measure(page: Page): Promise<void> {
  await page.getByLabel("Protection class").selectOption("I");
  await page.getByLabel("Cord length, m").fill("2");
  await page.getByLabel("Protective conductor, ohm").fill("0,12");
  await page.getByLabel("Insulation, Mohm").fill("50");
  await page.getByLabel("Polarity").selectOption("pass");
  await page.getByLabel("Works as it should").selectOption("pass");
  await page.getByLabel(/^Ohmar 0042/).check();
}

async function draw(page: Page): Promise<void> {
  const pad = page.getByRole("img", { name: /^Signature/ });
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  if (!box) throw new Error("The signature's field is not there.");
  await page.mouse.move(box.x + 30, box.y + 60);
  await page.mouse.down();
  await page.mouse.move(box.x + 150, box.y + 40, { steps: 8 });
  await page.mouse.up();
  await expect(page.getByRole("img", { name: "Signature, drawn" })).toBeVisible();
}

/** Dark points of the signature's field. */
const inkOf = (page: Page) =>
  page.locator("canvas").evaluate((canvas: HTMLCanvasElement) => {
    const { data } = canvas.getContext("2d")?.getImageData(0, 0, canvas.width, canvas.height) ?? { data: [] };
    let ink = 0;
    for (let place = 3; place < data.length; place += 4) if ((data[place] ?? 0) > 128) ink++;
    return ink;
  });

test("an inspection on a phone loses nothing to a cut connection and is recorded once", async ({ page, browser }) => {
  test.setTimeout(120_000);
  await stayIn(page, "manager");
  await bringIn(page, "cellar-places.csv", places);
  await bringIn(page, "cellar-labels.csv", labels);
  await enterMeans(page);

  const phone = await phoneOf(browser);
  await openByTag(phone, "INS-4410");
  await tickAll(phone, items);
  await measure(phone);
  await expect(phone.getByText("Within the limit of 1 ohm.")).toBeVisible();
  await phone.getByLabel("Protective conductor, ohm").fill("1.4");
  await expect(phone.getByText("Outside the limit of 1 ohm: fail.")).toBeVisible();
  await expect(phone.getByText("As entered: fail.")).toBeVisible();
  await expect(phone.getByText(/North America: at most 1 ohm \(29 CFR 1926/).first()).toBeVisible();
  await phone.getByLabel("Protective conductor, ohm").fill("0.12");
  await expectSound(phone);

  // The cellar: no connection, and the browser throws the page away.
  await phone.context().setOffline(true);
  await tickAll(phone, laterItems);
  await phone.getByLabel("Notes").fill("Behind the boiler.");
  await phone.locator("input[type=file]").setInputFiles([
    { name: "plug.png", mimeType: "image/png", buffer: photo },
    { name: "broken.png", mimeType: "image/png", buffer: Buffer.from("no photo") },
  ]);
  await draw(phone);
  const ink = await inkOf(phone);
  await phone.reload();
  await expect(phone.getByText("What you typed before was kept on this phone")).toBeVisible();
  await expect(phone.getByLabel("Protective conductor, ohm")).toHaveValue("0.12");
  await expect(phone.getByLabel("Notes")).toHaveValue("Behind the boiler.");
  await expect(phone.getByRole("button", { name: "Take it off" })).toHaveCount(2);
  await expect.poll(() => inkOf(phone)).toBe(ink);
  await expect(phone.getByText("As entered: pass.")).toBeVisible();
  await phone.getByLabel("Your name, as signature").fill("J. Varga");
  await phone.getByRole("button", { name: "Sign and send" }).click();
  await expect(phone.getByRole("heading", { name: "Signed" })).toBeVisible();
  await expect(phone.getByText("There is no connection.").first()).toBeVisible();
  await phone.reload();
  await expect(phone.getByRole("heading", { name: "Signed" })).toBeVisible();
  await expectSound(phone);

  // Back, but the first answer is lost on its way: the server has it, the phone does not know.
  let asked = 0;
  await phone.route("**/api/v1/inspections", async (route) => {
    asked++;
    if (asked > 1) return route.continue();
    await route.fetch();
    await route.abort();
  });
  await phone.context().setOffline(false);
  await expect.poll(() => asked).toBe(1);
  await phone.getByRole("button", { name: "Try now" }).click();
  await expect(phone.getByText("Passed. That nothing was found")).toBeVisible({ timeout: 30_000 });
  await expect(phone.getByText("It had arrived before; it is recorded once.")).toBeVisible();
  expect(asked).toBe(2);
  // The photo that is none is refused and stays, with the reason; the other one and the signature arrived.
  await expect(phone.getByText("recorded, but not every photo was taken.")).toBeVisible();
  await expect(phone.getByText(/^broken\.png: /)).toBeVisible();
  await expectSound(phone);
  await phone.reload();
  await expect(phone.getByText(/^broken\.png: /)).toBeVisible();
  await phone.getByRole("button", { name: "Throw it away" }).click();
  await phone.getByRole("button", { name: "Yes, throw it away for good" }).click();
  await expect(phone.getByText(/^broken\.png: /)).toHaveCount(0);

  await page.goto("/appliances?q=INS-4410");
  await page.locator("tbody tr", { hasText: "INS-4410" }).getByRole("link").first().click();
  await expect(page.locator("#inspections")).toContainText("1 recorded");
  await page
    .locator("#inspections")
    .getByRole("link", { name: /, pass$/ })
    .click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Inspection: pass");
  await expect(page.getByText("Behind the boiler.")).toBeVisible();
  await expect(page.locator("#files")).toContainText("Signature");
  await expect(page.locator("#files").getByRole("img")).toHaveCount(2);
  await expectSound(page);
  await phone.context().close();
});

test("what the server refuses stays on the phone and says why; the wrong one is corrected by another", async ({ page, browser }) => {
  test.setTimeout(90_000);
  await stayIn(page, "manager");
  const phone = await phoneOf(browser);
  await openByTag(phone, "https://plates.example/tag/INS-4411");
  await tickAll(phone, [...items, ...laterItems]);
  await measure(phone);
  await phone.getByRole("group", { name: "Cord", exact: true }).getByLabel("fail").check();
  await phone.getByLabel("Your name, as signature").fill("J. Varga");
  await phone.getByRole("button", { name: "Sign and send" }).click();
  await expect(phone.getByRole("alert").filter({ hasText: "Say what is wrong with each item that failed." })).toBeVisible();
  await phone.getByLabel("What is wrong with: cord").fill("Taped");
  const appliance = phone.url().split("/").at(-1) ?? "";

  // Meanwhile the instrument is put away on another device.
  await page.goto("/inspect/means");
  const instrument = page.getByRole("row").filter({ hasText: "0042" });
  await instrument.getByText("New calibration, or put away").click();
  await instrument.getByRole("button", { name: "Put the instrument away" }).click();
  await expect(instrument).toHaveCount(0);
  await phone.getByRole("button", { name: "Sign and send" }).click();
  const why = "An instrument of the form is not in use any more: choose the one you used.";
  await expect(phone.getByRole("region", { name: "On this phone" })).toContainText(`signed, but refused. ${why}`);
  await expect(phone.getByLabel("What is wrong with: cord")).toHaveValue("Taped");
  await phone.goto("/inspect");
  await expect(phone.getByRole("region", { name: "On this phone" })).toContainText(why);
  await expectSound(phone);
  await phone.getByRole("region", { name: "On this phone" }).getByRole("link", { name: "INS-4411" }).click();
  await expect(phone.getByLabel("What is wrong with: cord")).toHaveValue("Taped");
  await phone.getByLabel("Take it out of use now").uncheck();
  await phone.getByRole("button", { name: "Sign and send" }).click();
  await expect(phone.getByText("Failed. Unplug it")).toBeVisible();

  await phone.getByRole("link", { name: "The inspection as recorded" }).click();
  await phone.getByRole("link", { name: "Correct it by another inspection" }).click();
  await expect(phone.getByRole("heading", { level: 1 })).toHaveText("Correct an inspection");
  await expect(phone).toHaveURL(new RegExp(`/inspect/${appliance}\\?corrects=`));
  await tickAll(phone, [...items, ...laterItems]);
  await phone.getByLabel("Your name, as signature").fill("J. Varga");
  await phone.getByRole("button", { name: "Sign and send" }).click();
  await phone.getByLabel("What was wrong with the inspection that this corrects").fill("Another cord.");
  await phone.getByRole("button", { name: "Sign and send" }).click();
  await expect(phone.getByText("Limited: nothing wrong was found")).toBeVisible();
  await phone.getByRole("link", { name: "The inspection as recorded" }).click();
  await expect(phone.getByText("Another cord.")).toBeVisible();
  await expectSound(phone);
  await phone.context().close();
});

test("a round says what is due, where, in walking order, and opens the forms it took along without a connection", async ({ browser }) => {
  test.setTimeout(60_000);
  const phone = await phoneOf(browser);
  await phone.goto("/inspect");
  await phone.getByRole("link", { name: "Cellar House" }).click();
  await expect(phone.getByRole("heading", { level: 1 })).toHaveText("Round of Cellar House");
  await phone.getByLabel("Show", { exact: true }).selectOption("all");
  await phone.getByRole("button", { name: "Show", exact: true }).click();
  await expect(phone.locator("tbody tr").first()).toContainText("unit 0101");
  await expect(phone.locator("tbody tr").last()).toContainText("unit 0201");
  await expectSound(phone);
  await phone.evaluate(async () => (await navigator.serviceWorker.ready).active !== null);
  await phone.getByRole("button", { name: "Keep these forms on the phone" }).click();
  await expect(phone.getByText("2 of 2 forms open on this phone without a connection.")).toBeVisible({ timeout: 30_000 });
  await phone.context().setOffline(true);
  await phone.getByRole("link", { name: "INS-4411" }).click();
  await expect(phone.getByRole("heading", { level: 1 })).toHaveText("Inspect", { timeout: 30_000 });
  await phone.getByLabel("Notes").fill("Opened in the cellar.");
  await phone.context().close();
});

/** A browser that reads codes with its camera, which the one of the tests does not. */
function readCodes(text: string): void {
  class Detector {
    detect = () => Promise.resolve([{ rawValue: text }]);
  }
  Reflect.set(window, "BarcodeDetector", Detector);
  navigator.mediaDevices.getUserMedia = () => Promise.resolve(document.createElement("canvas").captureStream());
}

test("a tag that the camera reads opens its form; one that is not known is said so", async ({ browser }) => {
  const phone = await phoneOf(browser);
  await phone.addInitScript(readCodes, "https://plates.example/tag/INS-4410");
  await phone.goto("/inspect");
  await phone.getByRole("button", { name: "Scan the tag" }).click();
  await expect(phone).toHaveURL(/\/inspect\/[0-9a-f-]{36}$/);
  await expect(phone.locator("main")).toContainText("INS-4410");
  await phone.goto("/inspect");
  await phone.getByLabel("Tag", { exact: true }).fill("NO-SUCH-TAG");
  await phone.getByRole("button", { name: "Open", exact: true }).click();
  await expect(phone.getByText('No appliance has the tag "NO-SUCH-TAG"')).toBeVisible();
  await phone.context().close();
});

test("the inspections come out as CSV", async ({ page }) => {
  await stayIn(page, "manager");
  const answer = await page.context().request.get("/inspect/export");
  expect(answer.headers()["content-type"]).toContain("text/csv");
  const lines = (await answer.text()).trim().split("\r\n");
  expect(lines[0]).toMatch(/^at,tag,site,result,standard/);
  expect(lines.filter((line) => line.includes("INS-4410"))).toHaveLength(1);
  expect(lines.filter((line) => line.includes("INS-4411"))).toHaveLength(2);
});
