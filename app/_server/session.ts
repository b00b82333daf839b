import { headers } from "next/headers";
import { cache } from "react";
import { type ActorAtHome, findActor } from "@/lib/access/find-actor";
import { getStore } from "@/lib/store/client";
import { getSignIn } from "./sign-in";

/** The signed-in person of the request's session cookie, read from the database each time; null without one. */
export async function actorOf(requestHeaders: Headers): Promise<ActorAtHome | null> {
  const session = await getSignIn().api.getSession({ headers: requestHeaders });
  return session ? findActor(getStore(), session.user.id) : null;
}

/** The same for the page or action being worked on, once a request. */
export const currentActor = cache(async () => actorOf(await headers()));

/** The id of the request's session, for what concerns the session itself; empty without one. */
export async function sessionIdOf(requestHeaders: Headers): Promise<string> {
  return (await getSignIn().api.getSession({ headers: requestHeaders }))?.session.id ?? "";
}
