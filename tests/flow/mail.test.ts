import { afterAll, afterEach, beforeAll, beforeEach, expect, it, vi } from "vitest";
import { mailServer, noMailServer } from "@/lib/documents/mail-server";
import { queueMessage } from "@/lib/documents/message";
import { jobWorks } from "@/lib/jobs/job-works";
import { runNextJob } from "@/lib/jobs/worker";
import type { Store } from "@/lib/store/client";
import { findMessage } from "@/lib/store/message-queries";
import { makeOrganisation } from "@/seed/builders";
import { eachDatabase } from "../support/database";
import { startMailServer, type TestMailServer } from "../support/mail-server";

const start = new Date("2026-03-02T12:00:00Z");
const secretAddress = `https://plates.linden.example/occupant/${"aB-_".repeat(11).slice(0, 43)}`;
let post: TestMailServer;

beforeAll(async () => {
  post = await startMailServer();
});
afterAll(() => post.close());
beforeEach(() => {
  post.received.length = 0;
  vi.stubEnv("PLATEWARDEN_SMTP_URL", post.url);
  vi.stubEnv("PLATEWARDEN_MAIL_FROM", "Linden Estates <plates@linden.example>");
});
afterEach(() => vi.unstubAllEnvs());

/** Does every job that is due at a time, counted in minutes after the start; returns how many there were. */
async function workAt(db: Store, minutes: number): Promise<number> {
  let done = 0;
  while (await runNextJob(db, jobWorks, () => new Date(start.getTime() + minutes * 60_000))) done += 1;
  return done;
}

async function queue(db: Store, to = "occupant@home.example"): Promise<{ organisationId: string; id: string }> {
  const { id: organisationId } = await makeOrganisation(db);
  const draft = {
    organisationId,
    kind: "notice",
    to,
    subject: "Stop using the kettle\r\nBcc: others@home.example",
    text: `Unplug it, if that is safe.\n.\nÇa va? 你好\n${secretAddress}`,
    about: { kind: "finding", id: "f1" },
    byUserId: null,
    now: start,
  };
  return { organisationId, id: await db.$transaction((tx) => queueMessage(tx, draft)) };
}

eachDatabase("a mail", (open) => {
  it("goes to the server once, whole, to its receiver alone", async () => {
    const { db, close } = await open();
    const { organisationId, id } = await queue(db);
    expect(await workAt(db, 0)).toBe(1);
    expect(await workAt(db, 9999)).toBe(0);
    expect(await findMessage(db, organisationId, id)).toMatchObject({ state: "sent", attempts: 1, problem: null, sentAt: start });
    expect(post.received).toHaveLength(1);
    expect(post.received[0]?.to).toEqual(["occupant@home.example"]);
    expect(post.received[0]?.raw).toContain(`Message-ID: <${id}@linden.example>`);
    expect(post.received[0]?.raw).not.toMatch(/^Bcc:/im);
    expect(post.received[0]?.raw.replace(/=\r\n/g, "")).toContain(secretAddress);
    expect((await findMessage(db, organisationId, id))?.text).toMatch(/\nhttps:\/\/plates\.linden\.example\/occupant\/\.\.\.$/);
    await close();
  });

  it("is tried again when the server puts it off, later each time, and is sent once it is taken", async () => {
    const { db, close } = await open();
    const { organisationId, id } = await queue(db);
    post.answers.push(451, 451);
    await workAt(db, 0);
    expect(await findMessage(db, organisationId, id)).toMatchObject({
      state: "queued",
      problem: expect.stringContaining("Try again later") as string,
    });
    expect(await workAt(db, 0.5)).toBe(0);
    expect(await workAt(db, 1)).toBe(1);
    expect(await workAt(db, 6)).toBe(1);
    expect(await findMessage(db, organisationId, id)).toMatchObject({ state: "sent", attempts: 3, problem: null });
    expect(post.received).toHaveLength(1);
    await close();
  });

  it("that the receiving server refuses is not tried again, and says why", async () => {
    const { db, close } = await open();
    const { organisationId, id } = await queue(db);
    post.answers.push(550);
    await workAt(db, 0);
    expect(await workAt(db, 9999)).toBe(0);
    expect(await findMessage(db, organisationId, id)).toMatchObject({
      state: "refused",
      problem: expect.stringMatching(/refused it: .*No such mailbox here/) as string,
    });
    await close();
  });

  it("is given up after five waits of a server that is away, or at once where none is set", async () => {
    const { db, close } = await open();
    vi.stubEnv("PLATEWARDEN_SMTP_URL", "smtp://127.0.0.1:1");
    const { organisationId, id } = await queue(db);
    for (const minutes of [0, 1, 6, 36, 156, 636]) expect(await workAt(db, minutes)).toBe(1);
    expect(await workAt(db, 99_999)).toBe(0);
    expect(await findMessage(db, organisationId, id)).toMatchObject({
      state: "given_up",
      attempts: 6,
      problem: expect.stringContaining("could not be reached") as string,
    });
    vi.stubEnv("PLATEWARDEN_SMTP_URL", "");
    const other = await queue(db);
    await workAt(db, 0);
    expect(await findMessage(db, other.organisationId, other.id)).toMatchObject({ state: "given_up", problem: noMailServer });
    await close();
  });
});

it.each([
  [{ PLATEWARDEN_SMTP_URL: "http://mail.example", PLATEWARDEN_MAIL_FROM: "a@b.example" }, /PLATEWARDEN_SMTP_URL/],
  [{ PLATEWARDEN_SMTP_URL: "smtp://mail.example" }, /PLATEWARDEN_MAIL_FROM/],
  [{ PLATEWARDEN_SMTP_URL: "smtp://mail.example", PLATEWARDEN_MAIL_FROM: "a@b.example\r\nBcc: c@d.example" }, /PLATEWARDEN_MAIL_FROM/],
])("settings that cannot be used are told in one sentence", (env, why) => {
  expect(() => mailServer(env)).toThrow(why);
});
