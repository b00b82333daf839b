import { expect, type Page, test } from "@playwright/test";
import { secretOfText, totp } from "../support/authenticator";
import { signIn, signOut } from "../support/browser-people";

const password = "seven slow lanterns";

/** Invites a person as the administrator and takes the link that is shown once. */
async function invite(page: Page, email: string): Promise<string> {
  await signIn(page, "administrator");
  await page.goto("/people/invite");
  await page.getByLabel("Name", { exact: true }).fill("H. Dohle");
  await page.getByLabel("E-mail address").fill(email);
  await page.getByLabel("All sites, those to come included").check();
  await page.getByRole("button", { name: "Invite" }).click();
  const link = await page.getByText(/\/join\/[\w-]{43}/).textContent();
  await signOut(page);
  return new URL(link?.trim() ?? "").pathname;
}

async function join(page: Page, path: string): Promise<void> {
  await page.goto(path);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(/^Join /);
  await page.getByLabel("Password", { exact: true }).fill(password);
  await page.getByRole("button", { name: "Join" }).click();
  await expect(page).toHaveURL(/\/sign-in/);
}

async function enter(page: Page, email: string): Promise<void> {
  await page.goto("/sign-in");
  await page.getByLabel("E-mail address").fill(email);
  await page.getByLabel("Password").fill(password);
  await page.getByRole("button", { name: "Sign in" }).click();
}

test("an invited person joins by the link, which works once, and sets up a second step", async ({ page }) => {
  const email = "second.step@linden.example";
  const path = await invite(page, email);
  await join(page, path);
  await page.goto(path);
  await expect(page.getByText("This link was used already")).toBeVisible();
  await enter(page, email);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Today");

  await page.goto("/account#second");
  const part = page.locator("#second");
  await part.getByLabel("Present password").fill(password);
  await part.getByRole("button", { name: "Set it up" }).click();
  await expect(part.getByRole("img", { name: /QR code/ })).toBeVisible();
  const secret = secretOfText((await part.getByText(/^[A-Z2-7]{32,}$/).textContent()) ?? "");
  const kept = (await part.getByRole("listitem").first().textContent()) ?? "";
  await part.getByLabel("Code").fill(totp(secret, Date.now()));
  await part.getByRole("button", { name: "Turn it on" }).click();
  await expect(part.getByText("It is on")).toBeVisible();
  await signOut(page);

  await enter(page, email);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Second step");
  await page.getByLabel("Code").fill("000000");
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page.getByText("This code is not right")).toBeVisible();
  await page.getByLabel("Code").fill(kept.trim());
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Today");
});

test("a passkey signs in by itself, and not where its owner was not verified", async ({ page, context }) => {
  const email = "passkey@linden.example";
  await join(page, await invite(page, email));
  await enter(page, email);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Today");
  const devtools = await context.newCDPSession(page);
  await devtools.send("WebAuthn.enable");
  const options = {
    protocol: "ctap2",
    transport: "internal",
    hasResidentKey: true,
    hasUserVerification: true,
    isUserVerified: true,
  } as const;
  const { authenticatorId } = await devtools.send("WebAuthn.addVirtualAuthenticator", { options });
  await page.goto("/account#passkeys");
  await page.getByLabel("Name of the device").fill("Test key");
  await page.getByRole("button", { name: "Add a passkey" }).click();
  await expect(page.getByRole("cell", { name: "Test key" })).toBeVisible();
  await signOut(page);

  await page.getByRole("button", { name: "Use a passkey" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Today");
  await signOut(page);

  await devtools.send("WebAuthn.setUserVerified", { authenticatorId, isUserVerified: false });
  await page.getByRole("button", { name: "Use a passkey" }).click();
  await expect(page.getByText(/No passkey was used|not known here/)).toBeVisible();
  await page.goto("/");
  await expect(page).toHaveURL(/\/sign-in/);
});

test("the own password is changed with the present one, and other browsers are signed out", async ({ page, browser }) => {
  const email = "own.password@linden.example";
  await join(page, await invite(page, email));
  await enter(page, email);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Today");
  const other = await (await browser.newContext()).newPage();
  await enter(other, email);
  await expect(other.getByRole("heading", { level: 1 })).toHaveText("Today");
  await page.goto("/account");
  await expect(page.locator("#sessions").getByRole("row")).toHaveCount(3);
  const part = page.locator("#password");
  await part.getByLabel("Present password").fill("not it at all");
  await part.getByLabel("New password").fill("nine quiet harbours");
  await part.getByRole("button", { name: "Change it" }).click();
  await expect(part.getByText("The present password is wrong")).toBeVisible();
  await part.getByLabel("Present password").fill(password);
  await part.getByRole("button", { name: "Change it" }).click();
  await expect(part.getByText("All other browsers are signed out")).toBeVisible();
  await other.goto("/appliances");
  await expect(other).toHaveURL(/\/sign-in/);
  await other.context().close();
});
