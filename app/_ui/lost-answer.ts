import { unstable_rethrow } from "next/navigation";

/** What a form shows when no answer came. */
export const lostAnswer = {
  ok: false,
  problem: "No answer came: the connection may be lost. What you typed is still here; send it again when you are connected.",
  fields: {},
} as const;

/** Sends a form; when no answer comes, as when the connection is lost, that is the answer. A redirect goes its way. */
export async function answerOf<T>(send: () => Promise<T>): Promise<T | typeof lostAnswer> {
  try {
    return await send();
  } catch (error) {
    unstable_rethrow(error);
    return lostAnswer;
  }
}
