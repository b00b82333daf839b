import { z } from "zod";
import { boundedForm } from "@/app/_server/bounded-form";
import { guestKind } from "@/app/_server/guest-kind";
import { linkRoute } from "@/app/_server/link";
import { Trouble } from "@/lib/access/trouble";
import { addFileByGuest } from "@/lib/documents/guest-files";
import { mostFileBytes } from "@/lib/documents/kept-file";

export const dynamic = "force-dynamic";

const text = (most: number) => z.string().max(most).default("");
const formSchema = z.object({ kind: guestKind, token: text(100), note: text(500), back: text(500), file: z.instanceof(File) });
/** What a form adds around the file. */
const formBytes = 64 * 1024;

/** Keeps a photo or PDF sent through a link, and returns the browser to the link's page. */
export const POST = linkRoute(async ({ db, now, request }) => {
  const form = formSchema.safeParse(await boundedForm(request, mostFileBytes + formBytes));
  if (!form.success) throw new Trouble("unreadable", "No file came with the request: choose a photo or a PDF.");
  const { kind, token, note, back, file } = form.data;
  const bytes = new Uint8Array(await file.arrayBuffer());
  const isOwnPath = /^\/(?![/\\])/.test(back);
  const added = await addFileByGuest(db, { kind, token, now }, { bytes, fileName: file.name, note }).catch((error: unknown) => {
    // An occupant is told in their own language, by the page they came from.
    if (error instanceof Trouble && kind === "occupant" && isOwnPath) return null;
    throw error;
  });
  if (added === null) return new Response(null, { status: 303, headers: { location: `${back}?photo=failed#photo` } });
  return isOwnPath ? new Response(null, { status: 303, headers: { location: back } }) : added;
});
