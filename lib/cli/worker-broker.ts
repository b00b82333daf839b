import { Trouble } from "@/lib/access/trouble";
import { BrokerSharing } from "@/lib/jobs/broker-sharing";
import { requireTopic, usualTopic } from "@/lib/jobs/broker-topic";
import { processArrivals } from "@/lib/jobs/process-arrivals";
import { WrongUse } from "./command";
import type { StartService } from "./service";

const everyMs = 5_000;

function requireAddress(url: string): string {
  const protocol = URL.canParse(url) ? new URL(url).protocol : "";
  if (["mqtt:", "mqtts:", "ws:", "wss:"].includes(protocol)) return url;
  throw new WrongUse(`"${url.slice(0, 80)}" is no broker: write mqtt://HOST:PORT or mqtts://HOST:PORT.`);
}

function topicOf(text: string | undefined): string {
  try {
    return requireTopic(text ?? usualTopic);
  } catch (error) {
    throw error instanceof Trouble ? new WrongUse(error.message) : error;
  }
}

/**
 * Readings from a broker. Name and password come from PLATEWARDEN_BROKER_USER and PLATEWARDEN_BROKER_PASSWORD, so that they
 * stand in no list of processes.
 */
export function brokerService({ broker, topic }: { readonly broker: string; readonly topic?: string | undefined }): StartService {
  const { PLATEWARDEN_BROKER_USER: username, PLATEWARDEN_BROKER_PASSWORD: password } = process.env;
  const address = { url: requireAddress(broker), topic: topicOf(topic), username, password };
  return async (db) => {
    const onTrouble = (sentence: string) => process.stderr.write(`${sentence}\n`);
    const sharing = new BrokerSharing(db, { arrivals: processArrivals(db), address, clock: () => new Date(), everyMs, onTrouble });
    sharing.start();
    return { name: `readings from ${new URL(broker).host} under ${address.topic}`, stop: () => sharing.stop() };
  };
}

/** Follows the sites whose readings come in, by whatever way. */
export const followingService: StartService = async (db) => {
  const { following } = processArrivals(db);
  return { name: "readings as they come in", stop: () => following.stop() };
};
