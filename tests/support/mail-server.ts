import type { AddressInfo } from "node:net";
import { SMTPServer } from "smtp-server";

export interface ReceivedMail {
  readonly to: readonly string[];
  /** The whole message as it came over the wire. */
  readonly raw: string;
}

export interface TestMailServer {
  readonly url: string;
  readonly received: ReceivedMail[];
  /** What the server answers to the next recipients, in order; afterwards it takes everything. */
  readonly answers: number[];
  readonly close: () => Promise<void>;
}

/** A real SMTP server on a free port that keeps what it receives. */
export async function startMailServer(): Promise<TestMailServer> {
  const received: ReceivedMail[] = [];
  const answers: number[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ["STARTTLS"],
    onRcptTo(_address, _session, done) {
      const code = answers.shift();
      done(
        code === undefined
          ? null
          : Object.assign(new Error(code >= 500 ? "No such mailbox here" : "Try again later"), { responseCode: code }),
      );
    },
    onData(stream, session, done) {
      const pieces: Buffer[] = [];
      stream.on("data", (piece: Buffer) => pieces.push(piece));
      stream.on("end", () => {
        received.push({ to: session.envelope.rcptTo.map(({ address }) => address), raw: Buffer.concat(pieces).toString("utf8") });
        done();
      });
    },
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.server.address() as AddressInfo;
  return { url: `smtp://127.0.0.1:${port}`, received, answers, close: () => new Promise((resolve) => server.close(resolve)) };
}
