import { headers } from "next/headers";
import { unstable_rethrow } from "next/navigation";
import type { z } from "zod";
import { type Permission, requirePermission } from "@/lib/access/permissions";
import { getStore } from "@/lib/store/client";
import { type Failure, failureOf, notSignedIn, otherOrigin } from "./failure";
import { isSameOrigin } from "./origin";
import type { PageWork } from "./page";
import { currentActor } from "./session";

export type ActionFailure = { readonly ok: false } & Omit<Failure, "status">;
export type ActionResult<T> = (T & { readonly ok: true }) | ActionFailure;

/** Called with an object or a form, or by `useActionState` with the previous result before it. */
export interface Action<I, T> {
  (input: I | FormData): Promise<ActionResult<T>>;
  (previous: unknown, input: I | FormData): Promise<ActionResult<T>>;
}

/** A form as an object; a name that comes twice becomes a list, and what the framework added is left out. */
export function formObject(form: FormData): Record<string, unknown> {
  const names = [...new Set(form.keys())].filter((name) => !name.startsWith("$ACTION"));
  return Object.fromEntries(
    names.map((name) => {
      const values = form.getAll(name);
      return [name, values.length === 1 ? values[0] : values];
    }),
  );
}

const told = ({ status: _, ...failure }: Failure): ActionFailure => ({ ok: false, ...failure });

/**
 * Wraps a server action: same origin, session, permission, input, work, reply. `work` gets parsed input and returns what the
 * page needs (or nothing); it may call `redirect` and `revalidatePath`. What goes wrong comes back as one sentence.
 */
export function action<S extends z.ZodType, T extends object = object>(
  schema: S,
  permission: Permission,
  // biome-ignore lint/suspicious/noConfusingVoidType: work that returns nothing is usual, and its type is void
  work: (context: PageWork, input: z.output<S>) => Promise<T | undefined | void>,
): Action<z.input<S>, T> {
  return async (...args: unknown[]): Promise<ActionResult<T>> => {
    if (!isSameOrigin(await headers())) return told(otherOrigin);
    const home = await currentActor();
    if (!home) return told(notSignedIn);
    const input = args.at(-1);
    try {
      requirePermission(home.actor, permission);
      const parsed = await schema.parseAsync(input instanceof FormData ? formObject(input) : input);
      const { actor, organisation } = home;
      const result = await work({ db: getStore(), actor, organisation, now: new Date() }, parsed);
      return { ...(result ?? {}), ok: true } as ActionResult<T>;
    } catch (error) {
      unstable_rethrow(error);
      return told(failureOf(error));
    }
  };
}
