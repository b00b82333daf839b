import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const root = join(import.meta.dirname, "../../..");

/** Edges that are open to everyone, each with its reason. */
const open: Readonly<Record<string, string>> = {
  "app/sign-in/page.tsx": "it is the way in",
  "app/sign-in/second/page.tsx": "it is the way in's second step",
  "app/sign-in/actions.ts": "it is the way in; it checks the origin itself",
  "app/api/auth/[...all]/route.ts": "the sign-in library's own door, with its own checks",
  "app/api/health/route.ts": "monitors have no account; it tells nothing",
  "app/api/v1/readings/route.ts": "devices have no account; each request proves a site's key, and that site alone is open to it",
  "app/(house)/actions.ts": "theme and sign-out are for everyone who is signed in",
};

const files = readdirSync(join(root, "app"), { recursive: true, encoding: "utf8" })
  .map((path) => `app/${path}`)
  .filter((path) => /\.tsx?$/.test(path) && !path.startsWith("app/_"));

interface Edge {
  readonly path: string;
  readonly kind: "page" | "route" | "actions";
  readonly text: string;
}

function edgesOf(paths: readonly string[]): Edge[] {
  return paths.flatMap((path): Edge[] => {
    const text = readFileSync(join(root, path), "utf8");
    if (/\/page\.tsx$/.test(path)) return [{ path, kind: "page", text }];
    if (/\/route\.tsx?$/.test(path)) return [{ path, kind: "route", text }];
    return /^\s*["']use server["']/m.test(text) ? [{ path, kind: "actions", text }] : [];
  });
}

/** What of an edge is not behind its wrapper; empty when all is. */
function unguarded({ kind, text }: Pick<Edge, "kind" | "text">): string[] {
  if (kind === "page" && /["']use server["']/.test(text)) return ["the page holds an action of its own: put it into a file of actions"];
  if (kind === "page") return /^ {2,4}(const .+ = )?await require(Page|Link)\(/m.test(text) ? [] : ["the page does not call requirePage"];
  const wrapper = kind === "route" ? /^(route|linkRoute)$/ : /^(action|linkAction)$/;
  const exported = [...text.matchAll(/^export\s+(?:(?:const|let|var)\s+(\w+)[^=\n]*=\s*(\w+)?|(.*))/gm)];
  const allowed = /^(type|interface)\b|^const (dynamic|runtime|maxDuration|revalidate) /;
  const bad = exported.filter(([line, name, call, other]) => {
    if (allowed.test(line.replace(/^export\s+/, ""))) return false;
    return name === undefined || other !== undefined || !wrapper.test(call ?? "");
  });
  const wrapped = exported.length > bad.length;
  return [...bad.map(([line]) => `${line} is not made by a wrapper`), ...(wrapped || bad.length > 0 ? [] : ["nothing is exported"])];
}

describe("every edge", () => {
  const edges = edgesOf(files);

  it("is found by the scan", () => {
    for (const kind of ["page", "route", "actions"] as const) expect(edges.filter((edge) => edge.kind === kind).length).toBeGreaterThan(1);
    for (const path of Object.keys(open)) expect(edges.map((edge) => edge.path)).toContain(path);
  });

  it("goes through its wrapper, save those that are open for a reason", () => {
    const found = edges.filter(({ path }) => !(path in open)).flatMap((edge) => unguarded(edge).map((what) => `${edge.path}: ${what}`));
    expect(found).toEqual([]);
  });
});

describe("the scan", () => {
  it.each([
    ["page", "export default async function P() {\n  return <p />;\n}"],
    ["page", "export default async function P() {\n  // await requirePage(x)\n  return <p />;\n}"],
    [
      "page",
      'export default async function P() {\n  await requirePage("see record");\n  async function save() {\n    "use server";\n  }\n}',
    ],
    ["route", "export async function GET() {}"],
    ["route", "const handle = 1;\nexport { handle as GET };"],
    ["route", 'export const GET = route({ permission: "see record" }, w);\nexport const POST = async () => new Response();'],
    ["actions", '"use server";\nexport async function save() {}'],
    ["actions", '"use server";\nexport const save = action(a, b, c);\nexport default async () => {};'],
  ] as const)("finds an open %s in %j", (kind, text) => {
    expect(unguarded({ kind, text })).not.toEqual([]);
  });

  it.each([
    ["page", 'export default async function P() {\n  const { db } = await requirePage("see record");\n}'],
    ["route", 'export const dynamic = "force-dynamic";\nexport const GET = route({ permission: "see record" }, w);'],
    ["actions", '"use server";\nexport type A = string;\nexport const save = action(a, b, c);'],
  ] as const)("lets a guarded %s pass: %j", (kind, text) => {
    expect(unguarded({ kind, text })).toEqual([]);
  });
});
