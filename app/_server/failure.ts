import { z } from "zod";
import { ChangedMeanwhile, type Meanwhile } from "@/lib/access/changed-meanwhile";
import { Refused } from "@/lib/access/refusal";
import { otherSiteSentence } from "@/lib/access/sign-in";
import { Trouble } from "@/lib/access/trouble";

/** A failure as the edge tells it: an HTTP status, one sentence, and sentences by field. */
export interface Failure {
  readonly status: number;
  readonly problem: string;
  readonly fields: Readonly<Record<string, string>>;
  /** What somebody else did meanwhile, where that is why nothing was saved. */
  readonly meanwhile?: Meanwhile;
}

export const notSignedIn: Failure = { status: 401, problem: "You are not signed in: sign in and try again.", fields: {} };
export const otherOrigin: Failure = { status: 403, problem: otherSiteSentence, fields: {} };

/** The issues of a schema by the field they sit in, the first of each. */
function invalid(error: z.ZodError): Failure {
  const fields: Record<string, string> = {};
  for (const issue of error.issues) fields[issue.path.join(".") || "form"] ??= issue.message;
  const count = Object.keys(fields).length;
  const first = Object.entries(fields)[0];
  const problem = count === 1 && first ? `${first[0]}: ${first[1]}` : `${count} fields need another look.`;
  return { status: 422, problem, fields };
}

/** Turns what was thrown into what is said. The unexpected is logged in full and told in general. */
export function failureOf(error: unknown): Failure {
  if (error instanceof z.ZodError) return invalid(error);
  if (error instanceof Refused) return { status: 403, problem: error.message, fields: {} };
  if (error instanceof ChangedMeanwhile)
    return { status: error.status, problem: error.message, fields: error.fields, meanwhile: error.meanwhile };
  if (error instanceof Trouble) return { status: error.status, problem: error.message, fields: error.fields };
  console.error(error);
  return {
    status: 500,
    problem: "Something went wrong on our side and nothing was changed: try again, or tell an administrator.",
    fields: {},
  };
}
