import { forPage } from "@/app/_server/page";
import { Trouble } from "@/lib/access/trouble";
import type { NegativeProof } from "@/lib/registry/negative-proof";

/** A proof, or the sentence where what was asked for is not there, such as a mistyped tag. */
export async function askedProof(work: Promise<NegativeProof | null>): Promise<{ proof: NegativeProof | null; problem: string | null }> {
  try {
    return { proof: await forPage(work), problem: null };
  } catch (error) {
    if (error instanceof Trouble && error.code === "not_valid") return { proof: null, problem: error.message };
    throw error;
  }
}
