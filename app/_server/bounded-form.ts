import { Trouble } from "@/lib/access/trouble";

/** Lets a body through up to `most` bytes, whatever length its sender announced; a longer one throws `Trouble`. */
function bounded(body: ReadableStream<Uint8Array>, most: number): ReadableStream<Uint8Array> {
  let seen = 0;
  return body.pipeThrough(
    new TransformStream<Uint8Array, Uint8Array>({
      transform(piece, controller) {
        seen += piece.length;
        if (seen > most) controller.error(tooLong(most));
        else controller.enqueue(piece);
      },
    }),
  );
}

function tooLong(most: number): Trouble {
  return new Trouble("too_large", `The file is longer than ${Math.floor(most / 1024 ** 2)} MB: send a smaller photo, or fewer pages.`);
}

/** A multipart form of at most `most` bytes. Throws `Trouble` when it is longer, or no such form. */
export async function boundedForm(request: Request, most: number): Promise<Record<string, FormDataEntryValue>> {
  if (!request.body) throw new Trouble("unreadable", "No file came with the request: choose a photo or a PDF.");
  if (Number(request.headers.get("content-length") ?? 0) > most) throw tooLong(most);
  const headers = { "content-type": request.headers.get("content-type") ?? "" };
  try {
    return Object.fromEntries(await new Response(bounded(request.body, most), { headers }).formData());
  } catch (error) {
    if (error instanceof Trouble) throw error;
    if (error instanceof Error && error.cause instanceof Trouble) throw error.cause;
    throw new Trouble("unreadable", "The form did not arrive whole: send it again.");
  }
}
