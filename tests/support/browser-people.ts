import { expect, type Page } from "@playwright/test";

/** The demo's people; their password is printed by the demo itself. */
export const demoPassword = "copper kettle by the window";
export type DemoRole = "administrator" | "manager" | "surveyor" | "inspector";

/** Signs in through the form, as a person would. */
export async function signIn(page: Page, role: DemoRole): Promise<void> {
  await page.goto("/sign-in");
  await page.getByLabel("E-mail address").fill(`${role}@linden.example`);
  await page.getByLabel("Password").fill(demoPassword);
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Today");
}

type Cookies = Awaited<ReturnType<ReturnType<Page["context"]>["cookies"]>>;
const kept = new Map<DemoRole, Cookies>();

/**
 * Lets a page in as somebody who signed in before, so that looking at many pages does not run into the limit of sign-ins from one
 * address. Not for tests that sign out: that ends the session.
 */
export async function stayIn(page: Page, role: DemoRole): Promise<void> {
  const cookies = kept.get(role);
  if (!cookies) {
    await signIn(page, role);
    kept.set(role, await page.context().cookies());
    return;
  }
  await page.context().addCookies(cookies);
  await page.goto("/");
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Today");
}

/** Signs out through the panel under the person's name. */
export async function signOut(page: Page): Promise<void> {
  await page
    .getByRole("banner")
    .getByRole("button", { name: /, (administrator|manager|surveyor|inspector)/ })
    .click();
  await page.getByRole("button", { name: "Sign out", exact: true }).click();
  await expect(page).toHaveURL(/\/sign-in/);
}
