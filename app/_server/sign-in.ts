import { publicUrl } from "@/lib/access/public-url";
import { signInSecret } from "@/lib/access/secret";
import { makeSignIn, type SignIn } from "@/lib/access/sign-in";
import { getStore } from "@/lib/store/client";
import { trustedOrigins } from "./origin";

const shared = globalThis as typeof globalThis & { platewardenSignIn?: SignIn };

/** The process's one sign-in, made at the first request, when the environment is read. */
export function getSignIn(): SignIn {
  shared.platewardenSignIn ??= makeSignIn(getStore(), {
    secret: signInSecret(),
    publicUrl: publicUrl(),
    trustedOrigins: (request) => trustedOrigins(request?.headers),
    clock: () => new Date(),
  });
  return shared.platewardenSignIn;
}
