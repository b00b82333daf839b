import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { z } from "zod";

const incoming = vi.hoisted(() => ({ headers: new Headers() }));
vi.mock("next/headers", () => ({ headers: async () => incoming.headers, cookies: async () => new Map() }));

import { action } from "@/app/_server/action";
import { requirePage } from "@/app/_server/page";
import { route } from "@/app/_server/route";
import { commandLineActor, type Role } from "@/lib/access/actor";
import { addPerson } from "@/lib/access/add-person";
import { endMembership } from "@/lib/access/change-person";
import { Refused } from "@/lib/access/refusal";
import { signInSecret } from "@/lib/access/secret";
import { Trouble } from "@/lib/access/trouble";
import { type FreshDatabase, freshDatabase } from "../support/database";
import { cookieHeader, goodPassword, guess, host, makeAdministrator } from "../support/signing-in";

/** What the edge keeps for the process; each test brings its own database. */
const shared = globalThis as { platewardenStore?: unknown; platewardenSignIn?: unknown };
let fresh: FreshDatabase;
let organisationId: string;

beforeEach(async () => {
  vi.stubEnv("PLATEWARDEN_SECRET", "0123456789".repeat(4));
  fresh = await freshDatabase();
  shared.platewardenStore = fresh.db;
  shared.platewardenSignIn = undefined;
  incoming.headers = new Headers({ host, origin: `https://${host}` });
  organisationId = (await makeAdministrator(fresh.db)).organisationId;
});
afterEach(async () => {
  shared.platewardenStore = undefined;
  shared.platewardenSignIn = undefined;
  vi.unstubAllEnvs();
  vi.restoreAllMocks();
  await fresh.close();
});

/** Adds a person with a role, signs them in, and returns the headers their browser would send. */
async function signedIn(role: Role) {
  const email = `${role}@linden.example`;
  const person = { email, name: "N. Berg", role, sites: "all", password: goodPassword, now: new Date() } as const;
  const { membershipId } = await addPerson(fresh.db, commandLineActor(organisationId), person);
  const { getSignIn } = await import("@/app/_server/sign-in");
  const { cookies } = await guess(getSignIn(), { email });
  const headers = new Headers({ cookie: cookieHeader(cookies), host, origin: `https://${host}`, "content-type": "application/json" });
  return { headers, membershipId };
}

const noParams = { params: Promise.resolve({}) };
const ask = (headers: Headers, query = "") => new Request(`https://${host}/api/v1/things${query}`, { headers });
const send = (headers: Headers, body: unknown) =>
  new Request(`https://${host}/api/v1/things`, { method: "POST", headers, body: JSON.stringify(body) });

describe("a route", () => {
  const read = route({ permission: "see record", query: z.object({ page: z.coerce.number().int().min(1) }) }, async ({ actor, query }) => ({
    role: actor.role,
    page: query.page,
  }));
  const write = route({ permission: "edit places", body: z.object({ name: z.string().min(1, "Give a name.") }) }, async ({ body }) => {
    if (body.name === "taken") throw new Trouble("already_there", "There is one of this name.", { name: "Take another." });
    if (body.name === "south") throw new Refused("edit places", true);
    if (body.name === "broken") throw new Error("a cable was cut");
    return { made: body.name };
  });

  it("answers 401 without a session, and with a forged or an ended one", async () => {
    const { headers, membershipId } = await signedIn("manager");
    expect((await read(ask(new Headers({ host })), noParams)).status).toBe(401);
    expect((await read(ask(new Headers({ host, cookie: "platewarden.session_token=made-up.signature" })), noParams)).status).toBe(401);
    expect((await read(ask(headers, "?page=1"), noParams)).status).toBe(200);
    await endMembership(fresh.db, commandLineActor(organisationId), { membershipId, now: new Date() });
    expect((await read(ask(headers, "?page=1"), noParams)).status).toBe(401);
  });

  it("answers 403 with the sentence to a role that may not, before it looks at the input", async () => {
    const { headers } = await signedIn("surveyor");
    const answer = await read(ask(headers, "?page=nonsense"), noParams);
    expect(answer.status).toBe(403);
    expect(await answer.json()).toMatchObject({ problem: expect.stringMatching(/Your role may not see record/) as string });
  });

  it("answers 403 to a change that comes from another site or does not say from where", async () => {
    const { headers } = await signedIn("manager");
    expect((await write(send(headers, { name: "Alder" }), noParams)).status).toBe(200);
    headers.set("origin", "https://evil.example");
    expect((await write(send(headers, { name: "Alder" }), noParams)).status).toBe(403);
    headers.delete("origin");
    expect((await write(send(headers, { name: "Alder" }), noParams)).status).toBe(403);
  });

  it("answers bad input, trouble and refusal each with its status and sentence", async () => {
    const { headers } = await signedIn("manager");
    const told = async (body: unknown) => {
      const answer = await write(send(headers, body), noParams);
      return { status: answer.status, ...((await answer.json()) as object) };
    };
    expect(await told({ name: "" })).toEqual({ status: 422, problem: "name: Give a name.", fields: { name: "Give a name." } });
    expect(await told({ name: "taken" })).toEqual({
      status: 409,
      problem: "There is one of this name.",
      fields: { name: "Take another." },
    });
    expect(await told({ name: "south" })).toMatchObject({ status: 403, problem: expect.stringMatching(/not at this site/) as string });
    expect((await read(ask(headers, "?page=0"), noParams)).status).toBe(422);
    const noJson = new Request(`https://${host}/api/v1/things`, { method: "POST", headers, body: "{" });
    expect((await write(noJson, noParams)).status).toBe(422);
  });

  it("logs the unexpected and tells nothing of it", async () => {
    const { headers } = await signedIn("manager");
    const log = vi.spyOn(console, "error").mockImplementation(() => {});
    const answer = await write(send(headers, { name: "broken" }), noParams);
    expect(answer.status).toBe(500);
    expect(await answer.text()).not.toMatch(/cable/);
    expect(log).toHaveBeenCalledWith(expect.objectContaining({ message: "a cable was cut" }));
  });
});

describe("an action", () => {
  const save = action(
    z.object({ name: z.string().min(1, "Give a name."), marks: z.array(z.string()).optional() }),
    "edit places",
    async (_, input) => ({
      saved: input,
    }),
  );

  it("takes an object, a form, or a form after the previous answer", async () => {
    incoming.headers = (await signedIn("manager")).headers;
    const form = new FormData();
    form.set("name", "Alder");
    form.append("marks", "a");
    form.append("marks", "b");
    form.set("$ACTION_KEY", "noise");
    expect(await save({ name: "Alder" })).toEqual({ ok: true, saved: { name: "Alder" } });
    expect(await save(form)).toEqual({ ok: true, saved: { name: "Alder", marks: ["a", "b"] } });
    expect(await save(null, form)).toEqual({ ok: true, saved: { name: "Alder", marks: ["a", "b"] } });
    expect(await save({ name: "" })).toEqual({ ok: false, problem: "name: Give a name.", fields: { name: "Give a name." } });
  });

  it("refuses who is not signed in, whose role may not, and another site, without touching the work", async () => {
    expect(await save({ name: "Alder" })).toMatchObject({ ok: false, problem: expect.stringMatching(/not signed in/) as string });
    incoming.headers = (await signedIn("inspector")).headers;
    expect(await save({ name: "Alder" })).toMatchObject({ ok: false, problem: expect.stringMatching(/may not edit places/) as string });
    incoming.headers = (await signedIn("manager")).headers;
    incoming.headers.set("origin", "https://evil.example");
    expect(await save({ name: "Alder" })).toMatchObject({ ok: false, problem: expect.stringMatching(/another site/) as string });
  });
});

describe("a page", () => {
  // What the framework throws carries the answer in its digest.
  const digest = (page: Promise<unknown>) =>
    page.then(
      () => "shown",
      (error: { digest?: string }) => error.digest ?? "thrown without a digest",
    );

  it("is shown to a role that may, refused with 403 to one that may not", async () => {
    vi.stubEnv("__NEXT_EXPERIMENTAL_AUTH_INTERRUPTS", "true");
    incoming.headers = (await signedIn("manager")).headers;
    expect(await digest(requirePage("see record"))).toBe("shown");
    incoming.headers = (await signedIn("surveyor")).headers;
    expect(await digest(requirePage("see record"))).toMatch(/403/);
  });

  it("sends who is not signed in to the sign-in page and back", async () => {
    incoming.headers.set("x-platewarden-path", "/record?page=2");
    expect(await digest(requirePage("see record"))).toMatch(/NEXT_REDIRECT;.*\/sign-in\?back=%2Frecord%3Fpage%3D2/);
  });
});

describe("the key that signs sessions", () => {
  it("is refused when it is short", () => {
    vi.stubEnv("PLATEWARDEN_SECRET", "short");
    expect(() => signInSecret()).toThrow(/at least 32 characters; it has 5/);
  });
});
