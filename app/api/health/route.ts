import { getStore } from "@/lib/store/client";

export const dynamic = "force-dynamic";

/** 200 when the database answers, 503 when not. Says nothing about what is in it. */
export async function GET(): Promise<Response> {
  const started = Date.now();
  try {
    await getStore().organisation.findFirst({ select: { id: true } });
    return Response.json({ ok: true, databaseMs: Date.now() - started });
  } catch (error) {
    console.error(error);
    return Response.json({ ok: false, problem: "The database does not answer." }, { status: 503 });
  }
}
