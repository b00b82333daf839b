import { headers } from "next/headers";
import { forbidden, notFound, redirect } from "next/navigation";
import type { Actor } from "@/lib/access/actor";
import type { ActorAtHome } from "@/lib/access/find-actor";
import { mayDo, type Permission } from "@/lib/access/permissions";
import { Refused } from "@/lib/access/refusal";
import { Trouble } from "@/lib/access/trouble";
import { getStore, type Store } from "@/lib/store/client";
import { currentActor } from "./session";

/** The request header in which proxy.ts tells a page its own address. */
export const pathHeader = "x-platewarden-path";

export interface PageWork {
  readonly db: Store;
  readonly actor: Actor;
  readonly organisation: ActorAtHome["organisation"];
  readonly now: Date;
}

/** The signed-in person, or the way to the sign-in page and back. */
export async function requireSignedIn(): Promise<ActorAtHome> {
  const home = await currentActor();
  if (home) return home;
  const path = (await headers()).get(pathHeader);
  redirect(path && path !== "/" ? `/sign-in?back=${encodeURIComponent(path)}` : "/sign-in");
}

/** What a page works with, once the person may do `permission`; else the sign-in page or the refusal (403). */
export async function requirePage(permission: Permission): Promise<PageWork> {
  const { actor, organisation } = await requireSignedIn();
  if (!mayDo(actor, permission)) forbidden();
  return { db: getStore(), actor, organisation, now: new Date() };
}

/** Runs a use case for a page: what it refuses becomes the refusal page, what it does not find becomes the 404 page. */
export async function forPage<T>(work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (error) {
    if (error instanceof Refused) forbidden();
    if (error instanceof Trouble && error.code === "not_found") notFound();
    throw error;
  }
}
