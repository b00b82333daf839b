import { headers } from "next/headers";
import { unstable_rethrow } from "next/navigation";
import type { z } from "zod";
import { getStore, type Store } from "@/lib/store/client";
import { type ActionFailure, type ActionResult, formObject } from "./action";
import { failureOf, otherOrigin } from "./failure";
import { isSameOrigin } from "./origin";
import { failed } from "./route";

/** What the bearer of a link works with: there is no signed-in person, the link alone says what may be done. */
export interface LinkWork {
  readonly db: Store;
  readonly now: Date;
}

/** What a link's page shows: what the link opens, or the one sentence why it does not. */
export type Opened<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: string };

/** Opens a link for its page. `read` must check the link itself. */
export async function requireLink<T>(read: (context: LinkWork) => Promise<T>): Promise<Opened<T>> {
  try {
    return { ok: true, value: await read({ db: getStore(), now: new Date() }) };
  } catch (error) {
    unstable_rethrow(error);
    return { ok: false, problem: failureOf(error).problem };
  }
}

/** Wraps a server action of a link's page: same origin, input, work, reply. `work` must check the link itself. */
export function linkAction<S extends z.ZodType, T extends object = object>(
  schema: S,
  // biome-ignore lint/suspicious/noConfusingVoidType: work that returns nothing is usual, and its type is void
  work: (context: LinkWork, input: z.output<S>) => Promise<T | undefined | void>,
): (...args: unknown[]) => Promise<ActionResult<T>> {
  return async (...args) => {
    const failed = (failure: Omit<ActionFailure, "ok">): ActionFailure => ({ ok: false, problem: failure.problem, fields: failure.fields });
    if (!isSameOrigin(await headers())) return failed(otherOrigin);
    const input = args.at(-1);
    try {
      const parsed = await schema.parseAsync(input instanceof FormData ? formObject(input) : input);
      return { ...((await work({ db: getStore(), now: new Date() }, parsed)) ?? {}), ok: true } as ActionResult<T>;
    } catch (error) {
      unstable_rethrow(error);
      return failed(failureOf(error));
    }
  };
}

interface LinkRouteWork extends LinkWork {
  readonly request: Request;
  readonly params: Readonly<Record<string, string>>;
}

type LinkHandler = (request: Request, context: { params: Promise<Record<string, string>> }) => Promise<Response>;

/** Wraps a route handler of a link: same origin for anything that changes, work, reply. `work` must check the link itself. */
export function linkRoute(work: (context: LinkRouteWork) => Promise<Response | object>): LinkHandler {
  return async (request, context) => {
    try {
      const reads = request.method === "GET" || request.method === "HEAD";
      if (!reads && !isSameOrigin(request.headers)) return failed(otherOrigin);
      const params = (await context?.params) ?? {};
      const answer = await work({ db: getStore(), now: new Date(), request, params });
      return answer instanceof Response ? answer : Response.json(answer);
    } catch (error) {
      return failed(failureOf(error));
    }
  };
}
