import { expect, test } from "@playwright/test";
import { demoPassword, signIn, signOut } from "../support/browser-people";

test("a stranger is sent to the sign-in page and back to where they wanted to go", async ({ page }) => {
  await page.goto("/appliances?q=kettle");
  await expect(page).toHaveURL(/\/sign-in/);
  await page.getByLabel("E-mail address").fill("manager@linden.example");
  await page.getByLabel("Password").fill(demoPassword);
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page).toHaveURL(/\/appliances\?q=kettle/);
});

test("a wrong password and an unknown address get the same sentence", async ({ page }) => {
  const said: string[] = [];
  for (const email of ["manager@linden.example", "nobody@linden.example"]) {
    await page.goto("/sign-in");
    await page.getByLabel("E-mail address").fill(email);
    await page.getByLabel("Password").fill("not the password at all");
    await page.getByRole("button", { name: "Sign in" }).click();
    said.push((await page.getByRole("alert").filter({ hasText: /\w/ }).first().textContent()) ?? "");
  }
  expect(said[0]).not.toBe("");
  expect(said[1]).toBe(said[0]);
});

test("a surveyor may not manage people, neither by the menu nor by the address", async ({ page }) => {
  await signIn(page, "surveyor");
  await expect(page.getByRole("link", { name: "People" })).toHaveCount(0);
  const answer = await page.goto("/people");
  expect(answer?.status()).toBe(403);
});

test("signing out ends the session", async ({ page }) => {
  await signIn(page, "inspector");
  await signOut(page);
  await page.goto("/findings");
  await expect(page).toHaveURL(/\/sign-in/);
});

test("machines without a session are refused in JSON", async ({ request }) => {
  const answer = await request.post("/api/v1/uploads", { data: "tag\n", headers: { origin: "http://localhost" } });
  expect([401, 403]).toContain(answer.status());
  expect(((await answer.json()) as { problem: string }).problem).toMatch(/\w+/);
});
