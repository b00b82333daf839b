import { createServer, type Server } from "node:net";
import { Aedes } from "aedes";

/** A broker of this process, that counts the acknowledgements it gets. */
export async function startBroker() {
  const broker = await Aedes.createBroker();
  let acknowledged = 0;
  broker.on("ack", () => {
    acknowledged += 1;
  });
  const subscribers = new Map<string, Set<string>>();
  broker.on("subscribe", (subscriptions, client) => {
    const topics = subscribers.get(client.id) ?? new Set();
    for (const { topic } of subscriptions) topics.add(topic);
    subscribers.set(client.id, topics);
  });
  const server: Server = createServer(broker.handle);
  const port = await new Promise<number>((resolve) => {
    server.listen(0, "127.0.0.1", () => resolve((server.address() as { port: number }).port));
  });
  const close = async () => {
    await new Promise<void>((resolve) => broker.close(resolve));
    await new Promise<void>((resolve) => server.close(() => resolve()));
  };
  /** How many topics were subscribed to, by whatever session. */
  const watched = () => [...subscribers.values()].reduce((sum, topics) => sum + topics.size, 0);
  return { url: `mqtt://127.0.0.1:${port}`, acknowledged: () => acknowledged, watched, close };
}
