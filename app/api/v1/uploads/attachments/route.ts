import { z } from "zod";
import { boundedForm } from "@/app/_server/bounded-form";
import { route } from "@/app/_server/route";
import { Trouble } from "@/lib/access/trouble";
import { addAttachment } from "@/lib/documents/attachments";
import { mostFileBytes } from "@/lib/documents/kept-file";

export const dynamic = "force-dynamic";

const text = (most: number) => z.string().max(most).default("");
const formSchema = z.object({ kind: text(40), subject: text(100), note: text(500), back: text(500), file: z.instanceof(File) });
/** What a form adds around the file. */
const formBytes = 64 * 1024;

/** An address of our own to go back to. */
function ownAddress(back: string): string | null {
  return /^\/(?![/\\])/.test(back) ? back : null;
}

/**
 * Keeps a photo or PDF sent by a form (multipart). With `back` the browser returns to that page, so that the form works without
 * scripts; else the answer is the attachment's id as JSON.
 */
export const POST = route({ permission: "see appliances" }, async ({ db, actor, now, request }) => {
  const form = formSchema.safeParse(await boundedForm(request, mostFileBytes + formBytes));
  if (!form.success) throw new Trouble("unreadable", "No file came with the request: choose a photo or a PDF.");
  const { kind, subject, note, back, file } = form.data;
  const bytes = new Uint8Array(await file.arrayBuffer());
  const added = await addAttachment(db, actor, { subject: { kind, id: subject }, bytes, fileName: file.name, note, now });
  const address = ownAddress(back);
  return address ? new Response(null, { status: 303, headers: { location: address } }) : added;
});
