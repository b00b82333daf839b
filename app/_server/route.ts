import type { z } from "zod";
import { type Permission, requirePermission } from "@/lib/access/permissions";
import { getStore } from "@/lib/store/client";
import { type Failure, failureOf, notSignedIn, otherOrigin } from "./failure";
import { isSameOrigin } from "./origin";
import type { PageWork } from "./page";
import { actorOf } from "./session";

export interface RouteWork<Q, B> extends PageWork {
  readonly request: Request;
  readonly params: Readonly<Record<string, string>>;
  readonly query: Q;
  readonly body: B;
}

export interface RouteRules<Q extends z.ZodType, B extends z.ZodType> {
  readonly permission: Permission;
  /** The schema of the address's query. */
  readonly query?: Q;
  /** The schema of a JSON body. Without it the body is left alone, for the work to stream. */
  readonly body?: B;
}

type Handler = (request: Request, context: { params: Promise<Record<string, string>> }) => Promise<Response>;

/** A failure as JSON: `{"problem": "...", "fields": {...}}`. */
export function failed({ status, problem, fields }: Failure): Response {
  return Response.json({ problem, fields }, { status });
}

async function jsonOf(request: Request): Promise<unknown> {
  return request.json().catch(() => undefined);
}

/**
 * Wraps a route handler: same origin (for anything that changes), session, permission, input, work, reply. The work returns a
 * `Response`, or a value that is sent as JSON. Refusals are 401 and 403, troubles have their own status, all as one sentence.
 */
export function route<Q extends z.ZodType = z.ZodUndefined, B extends z.ZodType = z.ZodUndefined>(
  rules: RouteRules<Q, B>,
  work: (context: RouteWork<z.output<Q>, z.output<B>>) => Promise<Response | object>,
): Handler {
  return async (request, context) => {
    try {
      const reads = request.method === "GET" || request.method === "HEAD";
      if (!reads && !isSameOrigin(request.headers)) return failed(otherOrigin);
      const home = await actorOf(request.headers);
      if (!home) return failed(notSignedIn);
      const { actor, organisation } = home;
      requirePermission(actor, rules.permission);
      const given = Object.fromEntries(new URL(request.url).searchParams);
      const query = (rules.query ? await rules.query.parseAsync(given) : undefined) as z.output<Q>;
      const body = (rules.body ? await rules.body.parseAsync(await jsonOf(request)) : undefined) as z.output<B>;
      const params = (await context?.params) ?? {};
      const answer = await work({ db: getStore(), actor, organisation, now: new Date(), request, params, query, body });
      return answer instanceof Response ? answer : Response.json(answer);
    } catch (error) {
      return failed(failureOf(error));
    }
  };
}
