import { unstable_rethrow } from "next/navigation";

/** The answer of a form that got none. */
export interface LostAnswer {
  readonly ok: false;
  readonly problem: string;
  readonly fields: Readonly<Record<string, string>>;
  readonly meanwhile?: undefined;
}

const lostAnswer: LostAnswer = {
  ok: false,
  problem: "No answer came: the connection may be lost. What you typed is still here; send it again when you are connected.",
  fields: {},
};

/** Sends a form; when no answer comes, as when the connection is lost, that is the answer. A redirect goes its way. */
export async function answerOf<T>(send: () => Promise<T>): Promise<T | LostAnswer> {
  try {
    return await send();
  } catch (error) {
    unstable_rethrow(error);
    return lostAnswer;
  }
}
