import { route } from "@/app/_server/route";
import { workerScript } from "./worker-script";

/** The service worker of the inspection pages. The header lets it answer for the room's own page too, which stands above its folder. */
export const GET = route({ permission: "see inspections" }, async () => {
  const headers = { "content-type": "text/javascript; charset=utf-8", "service-worker-allowed": "/inspect", "cache-control": "no-cache" };
  return new Response(workerScript, { headers });
});
