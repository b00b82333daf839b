import { getSignIn } from "@/app/_server/sign-in";

/** The doors of the sign-in library that are open; everything else it could do has its own page, or none. */
const open: Readonly<Record<string, string>> = {
  "/api/auth/sign-in/email": "POST",
  "/api/auth/sign-out": "POST",
  "/api/auth/get-session": "GET",
  "/api/auth/passkey/generate-register-options": "GET",
  "/api/auth/passkey/verify-registration": "POST",
  "/api/auth/passkey/generate-authenticate-options": "GET",
  "/api/auth/passkey/verify-authentication": "POST",
};

async function handle(request: Request): Promise<Response> {
  const { pathname } = new URL(request.url);
  if (open[pathname] !== request.method)
    return Response.json({ problem: "There is nothing at this address.", fields: {} }, { status: 404 });
  return getSignIn().handler(request);
}

export { handle as GET, handle as POST };
