import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type FetchRules, fetchList, type Resolve } from "@/lib/jobs/fetch-list";
import { type ListServer, listServer, tagged } from "../support/list-server";

const text = `number,title,brand\n1,Larkfield Recalls Kettles,Larkfield\n${"2,filler,filler\n".repeat(500)}`;
let server: ListServer;
let other: ListServer;

beforeAll(async () => {
  [server, other] = await Promise.all([listServer(), listServer()]);
});
afterAll(async () => {
  await Promise.all([server.close(), other.close()]);
});

const rules = (change: Partial<FetchRules> = {}): FetchRules => ({
  milliseconds: 5_000,
  bytes: 1024 * 1024,
  redirects: 3,
  ownHosts: new Set([server.host]),
  ...change,
});
const get = (path: string, change: Partial<FetchRules> = {}, marks: { etag?: string; lastModified?: string } = {}) =>
  fetchList({ url: server.url(path), etag: marks.etag ?? null, lastModified: marks.lastModified ?? null }, rules(change));
const failure = (path: string, change: Partial<FetchRules> = {}) =>
  get(path, change).then(
    () => "fetched",
    (error: Error) => error.message,
  );

describe("fetching a list", () => {
  it("gives the bytes with what the publisher marked them with", async () => {
    server.answer("/list.csv", tagged(text, '"v1"'));
    const fetched = await get("/list.csv");
    expect(fetched).toMatchObject({ kind: "list", status: 200, etag: '"v1"', answeredBy: server.url("/list.csv") });
    expect(fetched.kind === "list" && fetched.bytes.toString()).toBe(text);
  });

  it("sends the marks of the version we have, and takes 304 as unchanged", async () => {
    server.answer("/list.csv", tagged(text, '"v1"'));
    expect(await get("/list.csv", {}, { etag: '"v1"', lastModified: "Thu, 01 Jan 2026 00:00:00 GMT" })).toMatchObject({
      kind: "unchanged",
      status: 304,
    });
    expect(server.asked.at(-1)?.headers).toMatchObject({ "if-none-match": '"v1"', "if-modified-since": "Thu, 01 Jan 2026 00:00:00 GMT" });
  });

  it("does not believe a 304 that nothing was asked for", async () => {
    server.answer("/odd", (_request, response) => response.writeHead(304).end());
    expect(await failure("/odd")).toMatch(/HTTP 304/);
  });

  it("unpacks a compressed list", async () => {
    server.answer("/list.gz", (_request, response) => response.writeHead(200, { "content-encoding": "gzip" }).end(gzipSync(text)));
    const fetched = await get("/list.gz");
    expect(fetched.kind === "list" && fetched.bytes.toString()).toBe(text);
  });

  it("refuses a compressed list that was cut off, and one that is damaged", async () => {
    const packed = gzipSync(text);
    server.answer("/cut.gz", (_request, response) =>
      response.writeHead(200, { "content-encoding": "gzip" }).end(packed.subarray(0, packed.length - 20)),
    );
    expect(await failure("/cut.gz")).toBe(`${server.host} sent a compressed list that was cut off.`);
    server.answer("/bad.gz", (_request, response) => response.writeHead(200, { "content-encoding": "gzip" }).end("not packed at all"));
    expect(await failure("/bad.gz")).toBe(`${server.host} sent a compressed list that is damaged.`);
    server.answer("/odd.zip", (_request, response) => response.writeHead(200, { "content-encoding": "pack200" }).end(text));
    expect(await failure("/odd.zip")).toMatch(/"pack200"/);
  });

  it("refuses a list that came in part only", async () => {
    server.answer("/part", (request, response) => {
      response.writeHead(200, { "content-length": String(text.length) });
      response.write(text.slice(0, 100), () => request.socket.destroy());
    });
    expect(await failure("/part")).toMatch(/came in part only/);
  });

  it("refuses a list that is too long, whether it says so, or not, or only when it is unpacked", async () => {
    const most = { bytes: 4_000 };
    server.answer("/said", (_request, response) => response.writeHead(200, { "content-length": String(text.length) }).end(text));
    expect(await failure("/said", most)).toMatch(/longer than 0 MB, so it was not taken/);
    server.answer("/unsaid", (_request, response) => {
      response.writeHead(200);
      response.write(text.slice(0, 3_000));
      response.end(text.slice(3_000));
    });
    expect(await failure("/unsaid", most)).toMatch(/longer than/);
    server.answer("/bomb", (_request, response) =>
      response.writeHead(200, { "content-encoding": "gzip" }).end(gzipSync(Buffer.alloc(50_000_000))),
    );
    expect(await failure("/bomb")).toMatch(/longer than 1 MB/);
  });

  it("does not wait longer than it may, neither for the first byte nor for the last", async () => {
    server.answer("/silent", () => {});
    expect(await failure("/silent", { milliseconds: 200 })).toMatch(/took longer than 0 seconds/);
    server.answer("/dripping", (_request, response) => {
      response.writeHead(200);
      const drip = setInterval(() => response.write("1,2,3\n"), 20);
      response.on("close", () => clearInterval(drip));
    });
    expect(await failure("/dripping", { milliseconds: 300 })).toMatch(/took longer than/);
  });

  it("says what an answer means that is no list, and when to ask again", async () => {
    expect(await failure("/nothing")).toMatch(/has nothing at this address/);
    server.answer("/busy", (_request, response) => response.writeHead(503, { "retry-after": "1800" }).end());
    await expect(get("/busy")).rejects.toMatchObject({ status: 503, retryAfterSeconds: 1800 });
  });

  it("says that nobody answers there", async () => {
    const gone = await listServer();
    await gone.close();
    await expect(
      fetchList({ url: gone.url("/"), etag: null, lastModified: null }, rules({ ownHosts: new Set([gone.host]) })),
    ).rejects.toThrow(`${gone.host} refuses connections.`);
  });
});

describe("an address that leads on", () => {
  const leadsTo = (location: string) => server.answer("/moved", (_request, response) => response.writeHead(302, { location }).end());

  it("is followed where the other address may be asked", async () => {
    server.answer("/list.csv", tagged(text, '"v1"'));
    leadsTo("/list.csv");
    expect(await get("/moved")).toMatchObject({ kind: "list", answeredBy: server.url("/list.csv") });
  });

  it("is not followed into one's own network, and nothing there is asked", async () => {
    leadsTo(other.url("/secret"));
    expect(await failure("/moved")).toMatch(/leads on to another address, and there: Lists are fetched over https:\/\/ only/);
    leadsTo(other.url("/secret").replace("http:", "https:"));
    expect(await failure("/moved")).toMatch(/127\.0\.0\.1 leads to a private or reserved address/);
    leadsTo("https://169.254.169.254/latest/meta-data");
    expect(await failure("/moved")).toMatch(/169\.254\.169\.254 leads to a private/);
    leadsTo("file:///etc/passwd");
    expect(await failure("/moved")).toMatch(/https:\/\/ only/);
    expect(other.asked).toEqual([]);
  });

  it("is not followed without end", async () => {
    leadsTo("/moved");
    server.asked.length = 0;
    expect(await failure("/moved")).toMatch(/leads on more than 3 times/);
    expect(server.asked).toHaveLength(4);
  });
});

describe("a name", () => {
  const resolvesTo =
    (...addresses: string[]): Resolve =>
    (_name, done) =>
      done(
        null,
        addresses.map((address) => ({ address, family: address.includes(":") ? 6 : 4 })),
      );
  const ask = (resolve: Resolve) =>
    fetchList({ url: "https://lists.regulator.example/a", etag: null, lastModified: null }, rules({ resolve, milliseconds: 300 })).then(
      () => "fetched",
      (error: Error) => error.message,
    );

  it("that resolves to an address of one's own network is not asked, also when another of its addresses is public", async () => {
    expect(await ask(resolvesTo("127.0.0.1"))).toMatch(/lists\.regulator\.example leads to a private/);
    expect(await ask(resolvesTo("93.184.215.14", "10.0.0.7"))).toMatch(/leads to a private/);
    expect(await ask(resolvesTo("fd00::7"))).toMatch(/leads to a private/);
    expect(await ask(resolvesTo())).toMatch(/has no address/);
  });

  it("is resolved once, and the connection goes to the address that was judged, wherever the name leads a moment later", async () => {
    const answers = ["127.0.0.1", "10.0.0.7"];
    const resolve: Resolve = (_name, done) => done(null, [{ address: answers.shift() ?? "", family: 4 }]);
    const before = other.connections();
    const port = other.host.split(":")[1];
    const request = { url: `https://lists.regulator.example:${port}/a`, etag: null, lastModified: null };
    // The server there speaks no TLS, so no list comes; that it was reached is what counts.
    await expect(fetchList(request, rules({ resolve, isPublic: (address) => address === "127.0.0.1" }))).rejects.toThrow(
      "could not be asked",
    );
    expect(other.connections()).toBe(before + 1);
    expect(answers).toEqual(["10.0.0.7"]);
  });
});
