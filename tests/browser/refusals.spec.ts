import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type APIRequestContext, type APIResponse, type Browser, expect, test } from "@playwright/test";
import { permissions } from "@/lib/access/permissions";
import { type DemoRole, stayIn } from "../support/browser-people";
import { type Edge, listEdges } from "../support/edge-list";
import { root } from "../support/import-graph";

/** Every edge is asked by everybody. The list is read from the code, the table of permissions says who may: nothing here is kept by hand. */
const edges = listEdges();
const roles: readonly DemoRole[] = ["administrator", "manager", "surveyor", "inspector"];
const nowhere = "00000000-0000-4000-8000-000000000000";
const addressOf = (edge: Edge) => edge.address.replace(/\[[^\]]+\]/g, nowhere);
const may = (role: DemoRole, edge: Edge) =>
  (permissions as Readonly<Record<string, readonly string[]>>)[edge.permission]?.includes(role) ?? false;
const words = (edge: Edge) => `${edge.kind} ${edge.address} ${edge.name}`;

interface BuiltAction {
  readonly filename?: string;
  readonly exportedName?: string;
  readonly workers: Readonly<Record<string, unknown>>;
}

/** The names under which the built app takes its actions, by file and exported name, with a page that carries each. */
function builtActions(): Map<string, { id: string; page: string }> {
  const manifest = JSON.parse(readFileSync(join(root, ".next/server/server-reference-manifest.json"), "utf8")) as {
    node: Record<string, BuiltAction>;
  };
  const built = new Map<string, { id: string; page: string }>();
  for (const [id, { filename, exportedName, workers }] of Object.entries(manifest.node)) {
    const page = Object.keys(workers)[0]
      ?.replace(/^app/, "")
      .replace(/\/page$/, "")
      .replace(/\/\([^)]+\)/g, "")
      .replace(/\[[^\]]+\]/g, nowhere);
    built.set(`${filename} ${exportedName}`, { id, page: page || "/" });
  }
  return built;
}

const actions = builtActions();

async function ask(request: APIRequestContext, edge: Edge, origin: string): Promise<APIResponse> {
  if (edge.kind === "action") {
    const built = actions.get(`${edge.file} ${edge.name}`);
    if (!built) throw new Error(`The built app has no action ${edge.name} of ${edge.file}.`);
    const headers = { "next-action": built.id, "content-type": "text/plain;charset=UTF-8", accept: "text/x-component", origin };
    return request.post(built.page, { data: "[{}]", headers, maxRedirects: 0 });
  }
  if (edge.kind === "route" && edge.name !== "GET")
    return request.fetch(addressOf(edge), { method: edge.name, headers: { origin }, maxRedirects: 0 });
  return request.get(addressOf(edge), { maxRedirects: 0 });
}

/** What an edge did with somebody: sent them to sign in, refused them, or let them in to whatever it then said. */
async function outcome(answer: APIResponse, edge: Edge): Promise<"sign in" | "refused" | "let in"> {
  if (edge.kind === "action") {
    const text = await answer.text();
    if (text.includes("You are not signed in")) return "sign in";
    return text.includes(`Your role may not ${edge.permission}`) ? "refused" : "let in";
  }
  if (answer.status() === 401) return "sign in";
  if (answer.status() === 403) return "refused";
  return answer.status() === 307 && (answer.headers()["location"] ?? "").includes("/sign-in") ? "sign in" : "let in";
}

async function outcomes(request: APIRequestContext, origin: string): Promise<Map<Edge, string>> {
  const found = new Map<Edge, string>();
  for (const edge of edges) found.set(edge, await outcome(await ask(request, edge, origin), edge));
  return found;
}

async function signedIn(browser: Browser, role: DemoRole): Promise<APIRequestContext> {
  const page = await (await browser.newContext()).newPage();
  await stayIn(page, role);
  return page.context().request;
}

test("the list of edges holds every page, route and action, each with a permission that the table knows", () => {
  expect(edges.filter(({ kind }) => kind === "page").length).toBeGreaterThan(20);
  expect(edges.filter(({ kind }) => kind === "route").length).toBeGreaterThan(5);
  expect(edges.filter(({ kind }) => kind === "action").length).toBeGreaterThan(20);
  expect(edges.filter(({ permission }) => !(permission in permissions))).toEqual([]);
});

test("a stranger is let in nowhere", async ({ request, baseURL }) => {
  test.setTimeout(180_000);
  const found = await outcomes(request, baseURL ?? "");
  expect([...found].filter(([, what]) => what !== "sign in").map(([edge, what]) => `${words(edge)}: ${what}`)).toEqual([]);
});

for (const role of roles) {
  test(`a ${role} is refused what the table does not give, and nothing else for the role's sake`, async ({ browser, baseURL }) => {
    test.setTimeout(180_000);
    const found = await outcomes(await signedIn(browser, role), baseURL ?? "");
    const wrong = [...found].filter(([edge, what]) => {
      if (!may(role, edge)) return what !== "refused";
      // Who is limited to some sites may be refused what concerns them all; the demo's administrator is not limited.
      return role === "administrator" ? what !== "let in" : what === "sign in";
    });
    expect(wrong.map(([edge, what]) => `${words(edge)} (${edge.permission}): ${what}`)).toEqual([]);
  });
}
