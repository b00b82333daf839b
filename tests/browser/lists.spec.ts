import { expect, test } from "@playwright/test";
import { signIn } from "../support/browser-people";
import { browserListPort, listServer, tagged } from "../support/list-server";

const list = (count: number) =>
  `source,number,date,title,brand,product,models\n${Array.from({ length: count }, (_, at) => `Fell Office,F-${at},2019-05-01,Fellmoor Recalls Kettles ${at},Fellmoor,kettle,FM-${at}\n`).join("")}`;

test("a list is added by its address, held when it shrinks, taken in by a person, and taken off again", async ({ page }) => {
  const server = await listServer(browserListPort);
  try {
    server.answer("/list.csv", tagged(list(20), '"v1"'));
    await signIn(page, "manager");
    await page.goto("/recalls");
    await page.getByRole("link", { name: "Fetched lists" }).click();
    await page.getByRole("link", { name: "Add a list" }).first().click();
    await page.getByLabel("Name").fill("Fell Office");
    await page.getByLabel("Address of the list").fill("https://192.168.0.7/list.csv");
    await page.getByRole("button", { name: "Add", exact: true }).click();
    await expect(page.getByRole("alert").first()).toContainText("192.168.0.7 leads to a private or reserved address");
    await page.getByLabel("Address of the list").fill(server.url("/list.csv"));
    await page.getByRole("button", { name: "Add", exact: true }).click();
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("Fell Office");
    const checks = page.getByRole("table", { name: "Checks, the latest first" });
    await expect(checks.getByRole("link", { name: "taken in" })).toBeVisible({ timeout: 30_000 });

    server.answer("/list.csv", tagged(list(3), '"v2"'));
    await page.getByRole("button", { name: "Check now" }).click();
    await expect(page.getByRole("heading", { name: "Fell Office waits for a decision" })).toBeVisible({ timeout: 30_000 });
    await expect(page.getByText("It holds 3 notices, and the version before held 20: fewer than half.").first()).toBeVisible();
    await page.goto("/recalls");
    await expect(page.getByText("A recall list was not checked, so a new recall may be missing here.")).toBeVisible();
    await page.getByRole("note").getByRole("link", { name: "Fell Office" }).click();
    await page.getByRole("button", { name: "Take it in all the same" }).click();
    await expect(checks.getByRole("link", { name: "held, then taken in" })).toBeVisible({ timeout: 30_000 });

    await page.getByRole("button", { name: "Take it off the lists" }).click();
    await expect(page).toHaveURL(/\/recalls\/lists$/);
    await expect(page.getByText("No list is fetched yet")).toBeVisible();
  } finally {
    await server.close();
  }
});
