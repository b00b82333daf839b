import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";

export type Answer = (request: IncomingMessage, response: ServerResponse) => void;

export interface ListServer {
  /** `127.0.0.1:port`, the form in which a host of one's own is named. */
  readonly host: string;
  readonly url: (path: string) => string;
  /** What has been asked, in order. */
  readonly asked: { readonly path: string; readonly headers: IncomingMessage["headers"] }[];
  /** How many connections were opened to it. */
  readonly connections: () => number;
  /** From now on a path answers so. */
  readonly answer: (path: string, answer: Answer) => void;
  /** Forgets what it was told and asked. */
  readonly forget: () => void;
  readonly close: () => Promise<void>;
}

/** Where the browser tests' lists stand: the app that they look at was told that this host is its own. */
export const browserListPort = 4398;

/** A throwaway server of lists on this machine, on any free port unless one is named; what it was not told to answer is 404. */
export async function listServer(port = 0): Promise<ListServer> {
  const answers = new Map<string, Answer>();
  const asked: ListServer["asked"] = [];
  const server = createServer((request, response) => {
    const path = request.url ?? "/";
    asked.push({ path, headers: request.headers });
    const answer = answers.get(path);
    if (answer) answer(request, response);
    else response.writeHead(404).end("nothing here");
  });
  let connections = 0;
  server.on("connection", () => {
    connections += 1;
  });
  await new Promise<void>((ready) => server.listen(port, "127.0.0.1", ready));
  const host = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    host,
    asked,
    connections: () => connections,
    url: (path) => `http://${host}${path}`,
    answer: (path, answer) => answers.set(path, answer),
    forget: () => {
      answers.clear();
      asked.length = 0;
    },
    close: () =>
      new Promise((closed) => {
        server.close(() => closed());
        server.closeAllConnections();
      }),
  };
}

/** Answers a text with an entity tag, and 304 to whoever has it already. */
export function tagged(text: string, etag: string): Answer {
  return (request, response) => {
    if (request.headers["if-none-match"] === etag) response.writeHead(304, { etag }).end();
    else response.writeHead(200, { etag, "content-type": "text/csv" }).end(text);
  };
}
