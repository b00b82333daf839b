/** Runs once before the first request: the database takes this version's shape, and addresses of clients become trustworthy. */
export async function register(): Promise<void> {
  if (process.env["NEXT_RUNTIME"] !== "nodejs") return;
  const { start } = await import("./app/_server/start");
  await start();
}
