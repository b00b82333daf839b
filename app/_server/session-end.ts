import { cookies, headers } from "next/headers";
import { getSignIn } from "./sign-in";

/** Ends the session in the database and takes its cookies back. */
export async function endSession(): Promise<void> {
  await getSignIn().api.signOut({ headers: await headers() });
  const jar = await cookies();
  for (const { name } of jar.getAll()) if (/^(__Secure-)?platewarden\./.test(name)) jar.delete(name);
}
